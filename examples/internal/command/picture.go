package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

// Picture writes itself in the format that the ending of a file name says.
type Picture interface {
	Write(w io.Writer, name string) error
}

// WritePictures writes the first picture to a file, and each further one beside
// it, with its number before the ending.
func WritePictures(name string, pictures []Picture) error {
	if len(pictures) == 0 {
		return errors.New("-chart: there is nothing to draw")
	}
	var errs []error
	for i, p := range pictures {
		file := name
		if i > 0 {
			ext := filepath.Ext(name)
			file = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), i+1, ext)
		}
		var b bytes.Buffer
		err := p.Write(&b, file)
		if err == nil {
			err = WriteFile(file, b.Bytes())
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("-chart: %w", err))
		}
	}
	return errors.Join(errs...)
}

// Invented is the subtitle of a picture: what it shows, and whether that is
// invented.
func Invented(what string, invented bool) string {
	if invented {
		return what + ", invented data"
	}
	return what
}
