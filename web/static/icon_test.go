package static

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"net/http"
	"regexp"
	"strconv"
	"testing"
)

// The safe zone of a maskable icon is the circle around its centre with a radius of 40% of its side (W3C Web Application Manifest,
// "Icon masks"; from memory).
func TestIconKeepsWithinTheSafeZone(t *testing.T) {
	for _, side := range iconSizes {
		icon, drawn := drawIcon(side), 0
		for y := range side {
			for x := range side {
				if icon.NRGBAAt(x, y) == iconGround {
					continue
				}
				drawn++
				if d := math.Hypot(float64(x)+0.5-float64(side)/2, float64(y)+0.5-float64(side)/2); d > 0.4*float64(side) {
					t.Fatalf("%d pixels: (%d, %d) is %.1f from the centre, want at most %.1f", side, x, y, d, 0.4*float64(side))
				}
			}
		}
		if part := float64(drawn) / float64(side*side); part < 0.2 || part > 0.4 {
			t.Errorf("%d pixels: the lines cover %.0f%%, want a fifth to two fifths", side, 100*part)
		}
	}
}

// The lines of favicon.svg, widened by their strokes, are the first bars of the icon.
func TestIconIsThatOfTheBrowserTab(t *testing.T) {
	drawing, err := files.ReadFile("favicon.svg")
	if err != nil {
		t.Fatal(err)
	}
	number := func(text []byte) float64 {
		v, err := strconv.ParseFloat(string(text), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var bars []iconBar
	for _, path := range regexp.MustCompile(`<path d="([^"]*)" stroke="#fdfcf8" stroke-width="([\d.]+)" fill="none"`).FindAllSubmatch(drawing, -1) {
		half := number(path[2]) / 2
		for _, line := range regexp.MustCompile(`M([\d.]+) ([\d.]+)([hv])([\d.]+)`).FindAllSubmatch(path[1], -1) {
			x, y, length := number(line[1]), number(line[2]), number(line[4])
			if string(line[3]) == "v" {
				bars = append(bars, iconBar{x - half, y, x + half, y + length, iconLine})
			} else {
				bars = append(bars, iconBar{x, y - half, x + length, y + half, iconLine})
			}
		}
	}
	if got, want := fmt.Sprint(iconBars[:4]), fmt.Sprint(bars); got != want {
		t.Errorf("the icon has %s, the drawing %s", got, want)
	}
}

func TestManifestNamesTheIconsThatAreServed(t *testing.T) {
	var manifest struct {
		Icons []struct{ Src, Sizes, Type, Purpose string }
	}
	text, err := files.ReadFile("app.webmanifest")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &manifest); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, icon := range manifest.Icons {
		res := get(t, icon.Src)
		if res.StatusCode != http.StatusOK || res.Header.Get("Content-Type") != icon.Type {
			t.Errorf("%s: %d %s, want it served as %s", icon.Src, res.StatusCode, res.Header.Get("Content-Type"), icon.Type)
		}
		if icon.Type != "image/png" {
			continue
		}
		seen++
		picture, err := png.Decode(bytes.NewReader(load()[icon.Src[len(prefix):]].body))
		if err != nil {
			t.Fatal(err)
		}
		if size := picture.Bounds().Size(); icon.Sizes != fmt.Sprintf("%dx%d", size.X, size.Y) {
			t.Errorf("%s says %s and is %v", icon.Src, icon.Sizes, size)
		}
	}
	if seen != len(iconSizes) {
		t.Errorf("%d icons of pixels, want %d", seen, len(iconSizes))
	}
}
