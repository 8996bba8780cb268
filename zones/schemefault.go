package zones

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
)

// inScheme says what is wrong with the JSON of a scheme, and in which line; at is how far
// it was read.
func inScheme(text []byte, at int64, err error) error {
	say := func(at int64, format string, args ...any) error {
		at = min(max(at, 0), int64(len(text)))
		line := 1 + bytes.Count(text[:at], []byte("\n"))
		return faultf(err, "scheme: line %d: "+format, append([]any{line}, args...)...)
	}
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch _, field, unknown := strings.Cut(err.Error(), "json: unknown field "); {
	case err == io.EOF:
		return faultf(err, `scheme: found nothing, want {"name": …, "zones": […]}`)
	case err == io.ErrUnexpectedEOF:
		return say(int64(len(text)), "found the end of the text, want a ] for each [ and a } for each {")
	case unknown:
		return say(at, "found the field %s, want name, source and zones, and for each zone name, meaning, from and to", field)
	case errors.As(err, &kind) && kind.Field == "":
		return say(kind.Offset, `found %s, want one scheme, {"name": …, "zones": […]}`, jsonWord(kind.Value))
	case errors.As(err, &kind):
		field := kind.Field[strings.LastIndexByte(kind.Field, '.')+1:]
		want := "a text in quotation marks"
		if field == "zones" {
			want = "a list in [ and ], each zone in { and }"
		}
		return say(kind.Offset, "%s: found %s, want %s", field, jsonWord(kind.Value), want)
	case errors.As(err, &syntax):
		i := min(max(syntax.Offset-1, 0), int64(len(text)))
		before := bytes.TrimRight(text[:i], " \t\r\n")
		rest := []rune(string(text[i:]))
		switch {
		case len(rest) > 0 && (rest[0] == '}' || rest[0] == ']') && bytes.HasSuffix(before, []byte(",")):
			return say(int64(len(before)), "found a comma before %q, want none", rest[0])
		case len(rest) > 0:
			return say(i, "found %q, want JSON: texts and names of fields in quotation marks, a colon between the two, a comma between two fields or zones", rest[0])
		}
	}
	return faultf(err, "scheme: %s", plain(err))
}

// jsonWord is what JSON calls a value, with its article.
func jsonWord(value string) string {
	switch value, _, _ := strings.Cut(value, " "); value {
	case "array":
		return "a list"
	case "object":
		return "an object in { and }"
	case "string":
		return "a text"
	case "bool":
		return "true or false"
	default:
		return "a " + value
	}
}
