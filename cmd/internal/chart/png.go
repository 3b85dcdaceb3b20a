package chart

import (
	"encoding/binary"
	"hash/crc32"
	"math"
)

// withDPI says in a PNG how many dots it has to the inch: chunk pHYs, in dots a metre
// (PNG specification, third edition, 11.3.4.3), which comes after the first chunk, IHDR.
func withDPI(png []byte, dpi int) []byte {
	const afterIHDR = 8 + 4 + 4 + 13 + 4 // signature; length, type, data and sum of IHDR
	perMetre := uint32(math.Round(float64(dpi) / 0.0254))
	data := binary.BigEndian.AppendUint32([]byte("pHYs"), perMetre)
	data = append(binary.BigEndian.AppendUint32(data, perMetre), 1)
	chunk := append(binary.BigEndian.AppendUint32(nil, 9), data...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(data))
	out := append([]byte{}, png[:afterIHDR]...)
	return append(append(out, chunk...), png[afterIHDR:]...)
}
