// Command grays writes PNG files anew with eight grays, which is enough for black
// text and takes half the room.
//
//	go run ./testdata/pictures/grays FILE.png...
package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
)

func main() {
	for _, path := range os.Args[1:] {
		if err := reduce(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

const grays = 8

func reduce(path string) error {
	file, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	from, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	var palette color.Palette
	for i := range grays {
		palette = append(palette, color.Gray{uint8(i * 255 / (grays - 1))})
	}
	to := image.NewPaletted(from.Bounds(), palette)
	for y := from.Bounds().Min.Y; y < from.Bounds().Max.Y; y++ {
		for x := from.Bounds().Min.X; x < from.Bounds().Max.X; x++ {
			to.Set(x, y, from.At(x, y))
		}
	}
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, to); err != nil {
		return err
	}
	return os.WriteFile(path, out.Bytes(), 0o666)
}
