// Package printcheck looks at printed sheets: it lets a browser print them and Poppler's tools read
// the pages back.
package printcheck

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
)

// browser is a Chromium without a window, told what to do over a pair of pipes (its DevTools
// protocol): started once, since starting takes longer than all the printing.
type browser struct {
	command *exec.Cmd
	to      *os.File
	from    *bufio.Reader
	session string
	calls   int
}

// message is a call, its answer, or an event.
type message struct {
	ID      int             `json:"id,omitempty"`
	Session string          `json:"sessionId,omitempty"`
	Method  string          `json:"method,omitempty"`
	Params  any             `json:"params,omitempty"`
	Result  json.RawMessage `json:"result,omitempty"`
	Error   *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

func startBrowser(profile string) (*browser, error) {
	theirIn, to, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	from, theirOut, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	c := exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-extensions", "--disable-background-networking", "--user-data-dir="+profile, "--remote-debugging-pipe", "about:blank")
	c.ExtraFiles = []*os.File{theirIn, theirOut} // descriptors 3 and 4, as it wants them
	if err := c.Start(); err != nil {
		return nil, err
	}
	theirIn.Close()
	theirOut.Close()
	b := &browser{command: c, to: to, from: bufio.NewReader(from)}
	var target struct {
		ID string `json:"targetId"`
	}
	var attached struct {
		Session string `json:"sessionId"`
	}
	err = errors.Join(
		b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target),
		b.call("Target.attachToTarget", map[string]any{"targetId": target.ID, "flatten": true}, &attached))
	b.session = attached.Session
	return b, errors.Join(err, b.call("Page.enable", nil, nil))
}

// stop ends it; if it won't, the pipes that close end it.
func (b *browser) stop() {
	b.session = ""
	b.call("Browser.close", nil, nil)
	b.to.Close()
	b.command.Wait()
}

// call waits for the answer and passes over events.
func (b *browser) call(method string, params, result any) error {
	b.calls++
	text, err := json.Marshal(message{ID: b.calls, Session: b.session, Method: method, Params: params})
	if err != nil {
		return err
	}
	if _, err := b.to.Write(append(text, 0)); err != nil {
		return err
	}
	answer, err := b.next(func(m message) bool { return m.ID == b.calls })
	switch {
	case err != nil:
		return fmt.Errorf("%s: %w", method, err)
	case answer.Error != nil:
		return fmt.Errorf("%s: %s", method, answer.Error.Message)
	case result == nil:
		return nil
	}
	return json.Unmarshal(answer.Result, result)
}

func (b *browser) next(wanted func(message) bool) (message, error) {
	for {
		text, err := b.from.ReadBytes(0)
		if err != nil {
			return message{}, err
		}
		var m message
		if err := json.Unmarshal(bytes.TrimRight(text, "\x00"), &m); err != nil {
			return message{}, err
		}
		if wanted(m) {
			return m, nil
		}
	}
}

// open shows a page and waits until it is there.
func (b *browser) open(address string) error {
	if err := b.call("Page.navigate", map[string]any{"url": address}, nil); err != nil {
		return err
	}
	_, err := b.next(func(m message) bool { return m.Method == "Page.loadEventFired" })
	return err
}

// print gives the open page as a PDF on paper of a size in inches.
func (b *browser) print(wide, high float64) ([]byte, error) {
	var pdf struct {
		Data []byte `json:"data"` // Base64
	}
	err := b.call("Page.printToPDF", map[string]any{"paperWidth": wide, "paperHeight": high}, &pdf)
	return pdf.Data, err
}
