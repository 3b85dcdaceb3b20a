package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"slices"
	"strings"
	"time"
)

// mode is what may be done with a file.
func (f file) mode() int64 {
	if f.program {
		return 0o755
	}
	return 0o644
}

// sorted are the files by name.
func sorted(files []file) []file {
	return slices.SortedFunc(slices.Values(files), func(a, b file) int { return strings.Compare(a.name, b.name) })
}

// tarball packs files in a folder, for systems that know who may run a file.
func tarball(folder string, files []file, at time.Time) ([]byte, error) {
	var packed bytes.Buffer
	shrink, err := gzip.NewWriterLevel(&packed, gzip.BestCompression) // bears no name and no time
	if err != nil {
		return nil, err
	}
	out := tar.NewWriter(shrink)
	for _, f := range sorted(files) {
		header := &tar.Header{
			Typeflag: tar.TypeReg, Name: folder + "/" + f.name, Size: int64(len(f.text)), Mode: f.mode(), ModTime: at,
			Format: tar.FormatUSTAR,
		}
		if err := out.WriteHeader(header); err != nil {
			return nil, err
		}
		if _, err := out.Write(f.text); err != nil {
			return nil, err
		}
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	err = shrink.Close()
	return packed.Bytes(), err
}

// zipped packs files in a folder for Windows.
func zipped(folder string, files []file, at time.Time) ([]byte, error) {
	var packed bytes.Buffer
	out := zip.NewWriter(&packed)
	for _, f := range sorted(files) {
		w, err := out.CreateHeader(&zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate, Modified: at})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.text); err != nil {
			return nil, err
		}
	}
	err := out.Close()
	return packed.Bytes(), err
}
