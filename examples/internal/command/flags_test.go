package command_test

import (
	"bytes"
	"errors"
	"flag"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/protocol"
)

// Faults of the arguments are one line; the usage is for -h.
func TestParse(t *testing.T) {
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"-n", "3", "a.csv", "-"}, ""},
		{[]string{"--", "a.csv", "-n"}, ""},
		{[]string{"a.csv", "-n", "3"}, `p: found -n after "a.csv": flags come before the sheet`},
		{[]string{"-n", "x"}, `p: -n: found "x", want a number; -h`},
		{[]string{"-n"}, "p: -n: found nothing behind it, want a value"},
		{[]string{"-m"}, "p: found -m, which is no flag; -h lists the flags"},
	} {
		var out bytes.Buffer
		set := flag.NewFlagSet("p", flag.ContinueOnError)
		set.Int("n", 1, "a number")
		err := command.Parse(set, tt.args, &out, "the sheet")
		if (err == nil) != (tt.says == "") || err != nil && (!strings.Contains(err.Error(), tt.says) || strings.Contains(err.Error(), "\n")) || out.Len() > 0 {
			t.Errorf("%v: error %v, printed %q", tt.args, err, &out)
		}
	}
	var out bytes.Buffer
	set := flag.NewFlagSet("p", flag.ContinueOnError)
	set.Int("n", 1, "a number")
	if err := command.Parse(set, []string{"-h"}, &out, "the sheet"); !errors.Is(err, flag.ErrHelp) || !strings.Contains(out.String(), "a number") {
		t.Errorf("error %v, printed %q", err, &out)
	}
}

// A program says so too, and reports nothing.
func TestProgramFlags(t *testing.T) {
	p := command.Program{Name: "p", Sheets: 1, WorkOut: func([]protocol.Record) (command.Report, error) {
		t.Error("it reports")
		return nil, nil
	}}
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"anna.csv", "-chart", "z.svg"}, "flags come before the sheet"},
		{[]string{"a.csv", "b.csv"}, "found 2 sheets, want at most 1"},
		{[]string{"-pool", "25 m"}, "-h lists the flags"},
	} {
		var out, errs bytes.Buffer
		if status := p.Run(tt.args, nil, &out, &errs); status != 1 || out.Len() > 0 || !strings.Contains(errs.String(), tt.says) || strings.Count(errs.String(), "\n") != 1 {
			t.Errorf("%v: exit status %d, printed %q, error %q", tt.args, status, &out, &errs)
		}
	}
}
