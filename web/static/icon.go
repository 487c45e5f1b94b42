package static

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
)

// iconSizes are the sides of the icons for a device's home screen, in pixels.
var iconSizes = []int{192, 512}

// iconBox is the side of favicon.svg in its own units, in which the bars are given.
const iconBox = 28

// iconScale draws the bars a little smaller than favicon.svg does, so that a device which cuts the icon to a circle cuts none of them.
const iconScale = 0.88

var (
	iconGround = color.NRGBA{0x31, 0x2a, 0x7d, 0xff}
	iconLine   = color.NRGBA{0xfd, 0xfc, 0xf8, 0xff}
)

// iconBar is an upright rectangle of one colour.
type iconBar struct {
	left, top, right, bottom float64
	colour                   color.NRGBA
}

// iconBars are the strokes of favicon.svg, those below first: two rails, two rungs, and the uppermost rung with its inside.
var iconBars = []iconBar{
	{8, 3, 10, 25, iconLine},
	{18, 3, 20, 25, iconLine},
	{5.5, 18.75, 22.5, 22.25, iconLine},
	{5.5, 12.25, 22.5, 15.75, iconLine},
	{5.6, 5.6, 22.4, 9.4, iconLine},
	{6.8, 6.8, 21.2, 8.2, iconGround},
}

// addIcons draws the icons as PNG and puts them beside the files.
func addIcons(to map[string]asset) error {
	for _, side := range iconSizes {
		var body bytes.Buffer
		if err := png.Encode(&body, drawIcon(side)); err != nil {
			return fmt.Errorf("static: draw the icon of %d pixels: %w", side, err)
		}
		name := fmt.Sprintf("icon-%d.png", side)
		to[name] = newAsset(name, body.Bytes())
	}
	return nil
}

// drawIcon draws the icon of a side in pixels, its ground to the edges.
func drawIcon(side int) *image.NRGBA {
	icon := image.NewNRGBA(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			icon.SetNRGBA(x, y, iconGround)
		}
	}
	for _, b := range iconBars {
		b.draw(icon)
	}
	return icon
}

// draw lays a bar over an icon; a pixel that is covered in part takes part of the colour.
func (b iconBar) draw(icon *image.NRGBA) {
	side := float64(icon.Rect.Dx())
	pixels := func(v float64) float64 { return side/2 + (v-iconBox/2)*iconScale*side/iconBox }
	left, top, right, bottom := pixels(b.left), pixels(b.top), pixels(b.right), pixels(b.bottom)
	for y := int(top); y < int(math.Ceil(bottom)); y++ {
		for x := int(left); x < int(math.Ceil(right)); x++ {
			icon.SetNRGBA(x, y, blend(icon.NRGBAAt(x, y), b.colour, covered(x, left, right)*covered(y, top, bottom)))
		}
	}
}

// covered is the part, 0 to 1, of the pixel from at to at+1 that lies between two edges.
func covered(at int, from, to float64) float64 {
	return max(0, min(to, float64(at+1))-max(from, float64(at)))
}

// blend is a part of one colour over another; both are opaque.
func blend(below, above color.NRGBA, part float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a)*(1-part) + float64(b)*part)) }
	return color.NRGBA{mix(below.R, above.R), mix(below.G, above.G), mix(below.B, above.B), 0xff}
}
