package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// An icon is the sealed envelope, drawn here so that no picture has to be stored or rendered by a browser.
type icon struct {
	name    string // in dist
	size    int    // pixels a side
	purpose string // of the web app manifest: any or maskable
}

const touchSize = 180 // what an iPhone asks for

// Colours of the app's tokens.
var (
	kraft     = color.NRGBA{0xd8, 0xc1, 0x9b, 0xff}
	flap      = color.NRGBA{0xcb, 0xb1, 0x83, 0xff}
	kraftEdge = color.NRGBA{0xb9, 0x9a, 0x6b, 0xff}
	wax       = color.NRGBA{0x9a, 0x24, 0x38, 0xff}
	waxRing   = color.NRGBA{0x7c, 0x18, 0x2a, 0xff}
	sheet     = color.NRGBA{0xff, 0xfd, 0xf8, 0xff}
)

func (h house) writeIcons() ([]icon, error) {
	var out []icon
	for _, want := range []icon{{"icon.png", 192, "any"}, {"icon.png", 512, "any"}, {"mask.png", 512, "maskable"}, {"touch.png", touchSize, "any"}} {
		content, err := drawIcon(want.size, want.purpose == "maskable")
		if err != nil {
			return nil, err
		}
		want.name = hashedName(want.name, content)
		if err := h.write(want.name, content); err != nil {
			return nil, err
		}
		out = append(out, want)
	}
	return out, nil
}

// drawIcon samples the drawing sixteen times a pixel and averages, which smooths the edges.
func drawIcon(size int, maskable bool) ([]byte, error) {
	const samples = 4
	img := image.NewNRGBA(image.Rect(0, 0, size, size))
	for y := range size {
		for x := range size {
			var r, g, b, a float64
			for sy := range samples {
				for sx := range samples {
					u := (float64(x) + (float64(sx)+0.5)/samples) / float64(size)
					v := (float64(y) + (float64(sy)+0.5)/samples) / float64(size)
					c, inside := envelopeAt(u, v, maskable)
					if inside {
						r, g, b, a = r+float64(c.R), g+float64(c.G), b+float64(c.B), a+1
					}
				}
			}
			if a > 0 {
				alpha := uint8(math.Round(255 * a / (samples * samples)))
				img.SetNRGBA(x, y, color.NRGBA{uint8(math.Round(r / a)), uint8(math.Round(g / a)), uint8(math.Round(b / a)), alpha})
			}
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

// envelopeAt is the colour of the drawing at a point of the unit square. A maskable icon fills the square and keeps its
// content in the middle four fifths; another has small rounded corners, like cut paper.
func envelopeAt(u, v float64, maskable bool) (color.NRGBA, bool) {
	if !maskable && !insideRounded(u, v, 0.06) {
		return color.NRGBA{}, false
	}
	const tip = 0.56 // where the flap's tip and the wax are
	if c, hit := waxAt((u-0.5)/0.19, (v-tip)/0.19); hit {
		return c, true
	}
	flapEdge := tip * (1 - math.Abs(2*u-1)) // height of the flap at u
	switch {
	case math.Abs(v-flapEdge) < 0.009:
		return kraftEdge, true
	case v < flapEdge:
		return flap, true
	}
	return kraft, true
}

// waxAt draws the seal around the origin, its mean radius 1: a wavy blob, a ring, and a small cup.
func waxAt(x, y float64) (color.NRGBA, bool) {
	angle, radius := math.Atan2(y, x), math.Hypot(x, y)
	edge := 1 + 0.035*math.Sin(5*angle+0.6) + 0.025*math.Sin(3*angle+2)
	if radius > edge {
		return color.NRGBA{}, false
	}
	if cupOutline(x, y) {
		return sheet, true
	}
	if math.Abs(radius-0.8) < 0.035 {
		return waxRing, true
	}
	return wax, true
}

// cupOutline is a tasting cup seen from the side: two slanted walls, a rim and a foot.
func cupOutline(x, y float64) bool {
	const top, foot, line = -0.38, 0.38, 0.075
	if y < top-line || y > foot+line {
		return false
	}
	wall := 0.45 - 0.17*(y-top)/(foot-top)
	onWall := math.Abs(math.Abs(x)-wall) < line
	onRim := math.Abs(y-top) < line && math.Abs(x) < wall+line
	onFoot := math.Abs(y-foot) < line && math.Abs(x) < wall+line
	return onWall || onRim || onFoot
}

func insideRounded(u, v, r float64) bool {
	dx := math.Max(math.Max(r-u, u-(1-r)), 0)
	dy := math.Max(math.Max(r-v, v-(1-r)), 0)
	return math.Hypot(dx, dy) <= r
}
