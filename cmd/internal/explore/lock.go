package explore

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// alive is what a server says of itself, so that a second start knows it.
const alive = "leastmove explore"

// lock notes where the page of a file is served. Where another program serves it already, taken
// is that address. The note is for this user alone, as the address has the token in it.
func lock(path, address string) (taken string, release func(), err error) {
	none := func() {}
	whole, err := filepath.Abs(path)
	if err != nil {
		return "", none, err
	}
	if real, err := filepath.EvalSymlinks(whole); err == nil {
		whole = real
	}
	folder, err := os.UserCacheDir()
	if err != nil {
		return "", none, err
	}
	folder = filepath.Join(folder, "leastmove")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", none, err
	}
	note := filepath.Join(folder, fmt.Sprintf("explore-%x", sha256.Sum256([]byte(whole))))
	for range 3 {
		f, err := os.OpenFile(note, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, fs.ErrExist) {
			there, err := os.ReadFile(note)
			if at := strings.TrimSpace(string(there)); err == nil && answers(at) {
				return at, none, nil
			}
			os.Remove(note) // of one that ended without taking it away
			continue
		}
		if err != nil {
			return "", none, err
		}
		_, err = fmt.Fprintln(f, address)
		if err = errors.Join(err, f.Close()); err != nil {
			os.Remove(note)
			return "", none, err
		}
		return "", func() {
			if there, err := os.ReadFile(note); err == nil && strings.TrimSpace(string(there)) == address {
				os.Remove(note)
			}
		}, nil
	}
	return "", none, errors.New("another start is under way")
}

// answers says whether a server of ours is at an address.
func answers(address string) bool {
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		return false
	}
	c := &http.Client{
		Timeout: time.Second, Transport: &http.Transport{Proxy: nil, DisableKeepAlives: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	r, err := c.Get(address + "alive")
	if err != nil {
		return false
	}
	defer r.Body.Close()
	said, err := io.ReadAll(io.LimitReader(r.Body, 1<<10))
	return err == nil && r.StatusCode == http.StatusOK && strings.TrimSpace(string(said)) == alive
}

// browse opens an address in the browser; where that fails the address was printed.
func browse(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	c := exec.Command(name, args...)
	if c.Start() == nil {
		go c.Wait()
	}
}
