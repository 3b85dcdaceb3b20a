package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// caught is the file that the fault was planted in, and the first of its tests
// that fails; "": none does.
func (f fault) caught(c code) (file, by string, err error) {
	file, err = f.file(c)
	if err != nil {
		return file, "", err
	}
	packages, err := f.packages(c)
	if err != nil {
		return file, "", err
	}
	folder, err := os.MkdirTemp("", "planted")
	if err != nil {
		return file, "", err
	}
	defer os.RemoveAll(folder)
	overlay, err := plant(folder, file, strings.Replace(c[file], f.Old, f.New, 1))
	if err != nil {
		return file, "", err
	}
	args := []string{"test", "-vet=off", "-failfast", "-timeout", "15m", "-overlay", overlay,
		"-run", "^(" + strings.Join(f.Tests, "|") + ")$"}
	out, err := exec.Command("go", append(args, packages...)...).CombinedOutput()
	if err == nil {
		return file, "", nil
	}
	if by := failed(string(out)); by != "" {
		return file, by, nil
	}
	return file, "", fmt.Errorf("%v: %s", err, out)
}

// plant writes a file's new text and the overlay that puts it in the old one's place.
func plant(folder, file, text string) (overlay string, err error) {
	name, err := filepath.Abs(filepath.FromSlash(file))
	if err != nil {
		return "", err
	}
	with := filepath.Join(folder, filepath.Base(name))
	overlay = filepath.Join(folder, "overlay.json")
	replace, err := json.Marshal(map[string]map[string]string{"Replace": {name: with}})
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(with, []byte(text), 0o666); err != nil {
		return "", err
	}
	return overlay, os.WriteFile(overlay, replace, 0o666)
}

// failed is the first test that failed; "" where the packages were not even
// built.
func failed(out string) string {
	if strings.Contains(out, "[build failed]") || strings.Contains(out, "[setup failed]") {
		return ""
	}
	m := regexp.MustCompile(`(?m)^--- FAIL: (\S+)`).FindStringSubmatch(out)
	if m != nil {
		return m[1]
	}
	if strings.Contains(out, "panic: test timed out") {
		return "a test that did not end"
	}
	if strings.Contains(out, "panic:") {
		return "a panic"
	}
	return ""
}
