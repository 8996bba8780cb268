//go:build linux

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unsafe"
)

// The test binary is the program itself if it is started so.
func TestMain(m *testing.M) {
	if os.Getenv("POOLSIDE_TEST") != "" {
		main()
	}
	os.Exit(m.Run())
}

// terminal opens a pseudo-terminal: its two ends.
func terminal(t *testing.T) (master, slave *os.File) {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminal here:", err)
	}
	t.Cleanup(func() { master.Close() })
	var number, unlock int32
	for _, call := range []struct {
		request uintptr
		value   *int32
	}{{syscall.TIOCSPTLCK, &unlock}, {syscall.TIOCGPTN, &number}} {
		if _, _, err := syscall.Syscall(syscall.SYS_IOCTL, master.Fd(), call.request, uintptr(unsafe.Pointer(call.value))); err != 0 {
			t.Skip("no pseudo-terminal here:", err)
		}
	}
	if slave, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0); err != nil {
		t.Skip("no pseudo-terminal here:", err)
	}
	return master, slave
}

// session is the program at a terminal.
type session struct {
	t      *testing.T
	cmd    *exec.Cmd
	master *os.File
	mu     sync.Mutex
	screen bytes.Buffer
	seen   int
}

func start(t *testing.T, name string) *session {
	t.Helper()
	s := &session{t: t}
	var slave *os.File
	s.master, slave = terminal(t)
	s.cmd = exec.Command(os.Args[0], name)
	s.cmd.Env = append(os.Environ(), "POOLSIDE_TEST=1")
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = slave, slave, slave
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	slave.Close()
	t.Cleanup(func() { s.cmd.Process.Kill(); s.cmd.Wait() })
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := s.master.Read(b)
			s.mu.Lock()
			s.screen.Write(b[:n])
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	return s
}

// wait waits until a text stands on the screen, below what was waited for before.
func (s *session) wait(text string) {
	s.t.Helper()
	var got string
	for range 1200 {
		s.mu.Lock()
		got = s.screen.String()
		s.mu.Unlock()
		if i := strings.Index(got[s.seen:], text); i >= 0 {
			s.seen += i + len(text)
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.t.Fatalf("found\n%s\nwant %q", got[s.seen:], text)
}

// answer types a line as soon as the program asks for it.
func (s *session) answer(question, line string) {
	s.t.Helper()
	s.wait(question)
	if _, err := s.master.WriteString(line + "\n"); err != nil {
		s.t.Fatal(err)
	}
}

// At a terminal, killed in the middle and started again, the test goes on where it was;
// what someone else writes into the sheet is seen.
func TestKilledAndStartedAgain(t *testing.T) {
	name := planned(t)
	s := start(t, name)
	s.wait("Before anyone swims")
	s.answer("Lactate at rest", "1.0")
	s.answer("Time of repeat 1:", "6:00.4")
	s.answer("Lactate of repeat 1", "1.1 117")
	s.answer("Time of repeat 2:", "5:47.9")
	s.wait("Lactate of repeat 2")
	if err := s.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	s.cmd.Wait()
	r := read(t, name)
	if r.Rest != 1.0 || r.Repeats[0].Lactate != 1.1 || r.Repeats[1].Time != 347900*time.Millisecond {
		t.Fatalf("found %+v in the sheet after the kill", r)
	}

	s = start(t, name)
	s.wait("Before anyone swims")
	s.answer("Lactate of repeat 2", "1.3")
	s.answer("Time of repeat 3:", "5:35 1.6")
	s.wait("Time of repeat 4:")
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(b), "\n")
	cells := strings.Split(lines[4], ",")
	cells[7], cells[9] = "5:24", "9.3"
	lines[4] = strings.Join(cells, ",")
	if err := os.WriteFile(name, nil, 0o600); err != nil { // half written
		t.Fatal(err)
	}
	s.wait("found no test in the sheet")
	if err := os.WriteFile(name, []byte(strings.Join(lines, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	s.wait("The sheet has changed.")
	s.wait("Odd: 9.3 after 1.6")
	s.answer("Time of repeat 5:", "fix 4 2.3")
	s.wait("So far 1.1, 1.3, 1.6, 2.3 mmol/L")
	s.answer("Time of repeat 5:", "5:12.2 4.4")
	s.answer("Time of repeat 6:", "5:00.9")
	s.answer("Lactate 1 min", "8.8")
	s.answer("Lactate 3 min", "9.4")
	s.answer("Lactate 5 min", "9.0")
	s.wait("The test is done")
	s.answer("(fix or quit)", "quit")
	if err := s.cmd.Wait(); err != nil {
		t.Error(err)
	}
}
