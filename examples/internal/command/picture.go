package command

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

// Picture writes itself in the format that the ending of a file name says.
type Picture interface {
	Write(w io.Writer, name string) error
}

// WritePicture writes a picture to a file.
func WritePicture(name string, p Picture) error { return writePicture(name, 1, p) }

// writePicture writes the nth picture for a file: each but the first beside it, with its
// number before the ending.
func writePicture(name string, n int, p Picture) error {
	if n > 1 {
		ext := filepath.Ext(name)
		name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), n, ext)
	}
	var b bytes.Buffer
	err := p.Write(&b, name)
	if err == nil {
		err = WriteFile(name, b.Bytes())
	}
	if err != nil {
		return fmt.Errorf("-chart: %w", err)
	}
	return nil
}

// Invented is the subtitle of a picture: what it shows, and whether that is
// invented.
func Invented(what string, invented bool) string {
	if invented {
		return what + ", invented data"
	}
	return what
}
