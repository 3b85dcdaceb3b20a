package explore

import (
	"bytes"
	"path/filepath"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long a file has to be left alone before it is read: editors save in steps.
const settle = 100 * time.Millisecond

// watch follows the file, and the files that it names, as they are saved. The folder is
// watched, as editors put new files in the place of old ones.
func (sh *sheet) watch() (stop func(), err error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	path, err := filepath.Abs(sh.program.Path())
	if err == nil {
		err = w.Add(filepath.Dir(path))
	}
	if err != nil {
		w.Close()
		return nil, err
	}
	go func() {
		late := time.NewTimer(time.Hour)
		late.Stop()
		for {
			select {
			case _, open := <-w.Events:
				if !open {
					return
				}
				late.Reset(settle)
			case _, open := <-w.Errors: // events were lost: look
				if !open {
					return
				}
				late.Reset(settle)
			case <-late.C:
				sh.reload()
			}
		}
	}()
	return func() { w.Close() }, nil
}

// reload takes the file as it is now, if it is another.
func (sh *sheet) reload() {
	sh.reloading.Lock()
	defer sh.reloading.Unlock()
	text, err := sh.program.Load()
	now, was := sh.state()
	gone := ""
	if err != nil {
		gone = err.Error()
	} else {
		s := readSource(sh.program, text)
		if was == "" && bytes.Equal(text, now.text) && s.Files == now.Files {
			return
		}
		s.again = time.Now()
		now = s
	}
	sh.mu.Lock()
	sh.source, sh.gone = now, gone
	desks := slices.Clone(sh.desks) // one that is opened from here on begins with it
	sh.mu.Unlock()
	for _, d := range desks {
		d.mu.Lock()
		if gone == "" && now.Train != nil {
			d.follow(now)
		} else {
			d.tell() // the last one that could be used stays
		}
		d.mu.Unlock()
	}
}

// state is the file as it is now, and why it can't be read.
func (sh *sheet) state() (*source, string) {
	sh.mu.Lock()
	defer sh.mu.Unlock()
	return sh.source, sh.gone
}
