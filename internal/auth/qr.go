package auth

import (
	"fmt"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// QuietZone is the empty rim that readers of a QR code need, in modules (ISO/IEC 18004).
const QuietZone = 4

// Picture is a QR code as one SVG path over a square of Size modules, rim included.
type Picture struct {
	Path string
	Size int
}

// QR draws a text.
func QR(text string) (Picture, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return Picture{}, fmt.Errorf("draw a QR code: %w", err)
	}
	side := code.Bounds().Dx()
	var path strings.Builder
	for y := range side {
		for x := 0; x < side; x++ {
			if from := x; dark(code.At(x, y).RGBA()) {
				for x++; x < side && dark(code.At(x, y).RGBA()); x++ {
				}
				fmt.Fprintf(&path, "M%d %dh%dv1H%dz", from+QuietZone, y+QuietZone, x-from, from+QuietZone)
			}
		}
	}
	return Picture{Path: path.String(), Size: side + 2*QuietZone}, nil
}

func dark(r, _, _, _ uint32) bool { return r < 0x8000 }
