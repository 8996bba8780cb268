package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"example.com/steptest/lactate/table"
)

// Print writes a text, which may hold names from outside, so that no terminal obeys
// it.
func Print(w io.Writer, text string) error {
	_, err := io.WriteString(w, table.Clean(text))
	return Unheard(err)
}

// Complain writes an error as Print does.
func Complain(w io.Writer, err error) { _ = Print(w, fmt.Sprintln(err)) }

// Unheard is nil for the error of a pipe whose reader has gone: that is its right.
func Unheard(err error) error {
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return nil
	}
	return err
}

// WriteFile puts data into a file, whole or not at all: on a full disk the file stays as
// it was.
func WriteFile(name string, data []byte) (err error) {
	mode := os.FileMode(0o644)
	if info, err := os.Stat(name); err == nil {
		if !info.Mode().IsRegular() { // a pipe or a device
			return os.WriteFile(name, data, mode)
		}
		mode = info.Mode().Perm()
		if to, err := filepath.EvalSymlinks(name); err == nil {
			name = to
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".new-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	_, err = f.Write(data)
	if err == nil {
		err = errors.Join(f.Chmod(mode), f.Sync())
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// Picture writes itself in the format that the ending of a file name says.
type Picture interface {
	Write(w io.Writer, name string) error
}

// Drawing draws a picture.
type Drawing func() (Picture, error)

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
