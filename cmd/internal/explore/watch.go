package explore

import (
	"bytes"
	"path/filepath"
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
	text, err := sh.program.Load()
	sh.mu.Lock()
	defer sh.mu.Unlock()
	was := sh.gone
	if sh.gone = ""; err != nil {
		sh.gone = err.Error()
	} else {
		s := readSource(sh.program, text)
		if was == "" && bytes.Equal(text, sh.source.text) && s.Files == sh.source.Files {
			return
		}
		s.again = time.Now()
		sh.source = s
	}
	for _, d := range sh.desks {
		d.mu.Lock()
		if sh.gone == "" && sh.source.Train != nil {
			d.follow(sh.source)
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
