package sheet

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"slices"
)

const (
	// maxRow is the longest row of a sheet [bytes], with all its lines.
	maxRow = 64 << 10
	// maxRowLines is the largest number of lines that one row may cover,
	// because of line breaks inside quoted fields.
	maxRowLines = 16
)

// line is one physical line of a sheet, without its end.
type line struct {
	number int
	text   string
	long   bool // longer than maxRow: text is its beginning
}

// lineReader splits a sheet into lines of bounded length. Nothing above it ever
// sees a longer one. Lines that were read and not used can be put back.
type lineReader struct {
	r      *bufio.Reader
	number int
	back   []line // lines put back
	buf    []byte
}

func newLineReader(r io.Reader) *lineReader {
	return &lineReader{r: bufio.NewReader(r)}
}

// next returns the next line, or io.EOF, or the error of the reader.
func (l *lineReader) next() (line, error) {
	if len(l.back) > 0 {
		next := l.back[0]
		l.back = l.back[1:]
		return next, nil
	}
	l.buf = l.buf[:0]
	long := false
	for {
		part, err := l.r.ReadSlice('\n')
		if room := maxRow + 2 - len(l.buf); len(part) > room {
			part, long = part[:room], true
		}
		l.buf = append(l.buf, part...)
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil && (err != io.EOF || len(l.buf) == 0) {
			return line{}, err
		}
		break
	}
	l.number++
	text := bytes.TrimSuffix(bytes.TrimSuffix(l.buf, []byte("\n")), []byte("\r"))
	if long = long || len(text) > maxRow; long {
		text = text[:64]
	}
	return line{l.number, string(text), long}, nil
}

// putBack makes the lines, in order, the next ones.
func (l *lineReader) putBack(lines []line) { l.back = append(slices.Clone(lines), l.back...) }
