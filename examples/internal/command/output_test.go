package command_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command"
)

// D: a name from a sheet cannot move the cursor or turn the line round.
func TestPrint(t *testing.T) {
	var b strings.Builder
	if err := command.Print(&b, "Step test of \x1b[2JRobin\u202eelaV\n  1:20.0\n"); err != nil || b.String() != "Step test of  [2JRobinelaV\n  1:20.0\n" {
		t.Errorf("%q, %v", &b, err)
	}
	b.Reset()
	command.Complain(&b, errors.New("found \x07"))
	if b.String() != "found  \n" {
		t.Errorf("%q", &b)
	}
}

// D: a reader who has seen enough is no error; a full disk is one.
func TestPrintToClosedPipe(t *testing.T) {
	r, w := io.Pipe()
	r.Close()
	if err := command.Print(w, "text"); err != nil {
		t.Error(err)
	}
	from, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from.Close()
	defer to.Close()
	if err := command.Print(to, "text"); err != nil {
		t.Error(err)
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("no /dev/full here")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	if err := command.Print(full, "text"); err == nil {
		t.Error("no error from a full disk")
	}
}

// failing is a picture that cannot be written to its end.
type failing struct{}

func (failing) Write(w io.Writer, _ string) error {
	_, err := io.WriteString(w, "<svg>")
	return errors.Join(err, errors.New("no more"))
}

type whole string

func (p whole) Write(w io.Writer, _ string) error {
	_, err := io.WriteString(w, string(p))
	return err
}

// D: a picture is there whole, or the file is as it was, and nothing else is left.
func TestPicturesAreWhole(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.svg")
	write := func(p command.Picture) error { return command.WritePicture(name, p) }
	if err := write(failing{}); err == nil {
		t.Error("no error")
	}
	if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file is left: %v", err)
	}
	for _, text := range []whole{"first", "second"} {
		if err := write(text); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(name); err != nil || string(got) != string(text) {
			t.Errorf("%q, %v", got, err)
		}
	}
	if err := write(failing{}); err == nil {
		t.Error("no error")
	}
	if got, err := os.ReadFile(name); err != nil || string(got) != "second" {
		t.Errorf("%q, %v", got, err)
	}
	// The directory is as if it had no room.
	if err := command.WriteFile(filepath.Join(dir, "missing", "a.svg"), nil); err == nil {
		t.Error("no error")
	}
	files, err := os.ReadDir(dir)
	if err != nil || len(files) != 1 {
		t.Errorf("%v, %v", files, err)
	}
}
