package chart

import "image/color"

// The colours are those of Okabe & Ito (2008), "Color universal design",
// chosen to be told apart in every common form of colour blindness (values
// from memory of their table), with tints of one ink around them. Only the two
// thresholds are coloured; what else differs, differs in shape, dash or words.
type ground struct {
	paper, ink, soft, axis, grid color.Color // ink for text and data, soft for what comes second
	band, zone                   color.Color // band of the curve, tint of every other zone
	first, second                tone        // LT1, LT2
	change, quiet                tone        // a shift between tests; neither
}

// tone is the colour of a mark and of the strip that belongs to it.
type tone struct{ line, strip color.Color }

func light() ground {
	ink := color.NRGBA{0x16, 0x22, 0x2E, 0xFF}
	return ground{
		paper: color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF},
		ink:   ink,
		soft:  color.NRGBA{0x55, 0x62, 0x6E, 0xFF},
		axis:  color.NRGBA{0x9A, 0xA5, 0xAF, 0xFF},
		grid:  color.NRGBA{0xE6, 0xEA, 0xED, 0xFF},
		band:  faded(ink, 0x24),
		zone:  faded(ink, 0x0B),
		first: tone{ // blue and sky blue
			line:  color.NRGBA{0x00, 0x72, 0xB2, 0xFF},
			strip: color.NRGBA{0x56, 0xB4, 0xE9, 0x5C},
		},
		second: tone{ // vermillion and orange
			line:  color.NRGBA{0xD5, 0x5E, 0x00, 0xFF},
			strip: color.NRGBA{0xE6, 0x9F, 0x00, 0x66},
		},
		change: tone{line: color.NRGBA{0x00, 0x9E, 0x73, 0xFF}, strip: color.NRGBA{0x00, 0x9E, 0x73, 0x40}}, // bluish green
		quiet:  tone{line: color.NRGBA{0x55, 0x62, 0x6E, 0xFF}, strip: faded(ink, 0x18)},
	}
}

func dark() ground {
	ink := color.NRGBA{0xF1, 0xF4, 0xF6, 0xFF}
	return ground{
		paper: color.NRGBA{0x12, 0x1C, 0x26, 0xFF},
		ink:   ink,
		soft:  color.NRGBA{0xA9, 0xB5, 0xC0, 0xFF},
		axis:  color.NRGBA{0x6B, 0x79, 0x86, 0xFF},
		grid:  color.NRGBA{0x27, 0x33, 0x3E, 0xFF},
		band:  faded(ink, 0x30),
		zone:  faded(ink, 0x0E),
		first: tone{ // sky blue
			line:  color.NRGBA{0x56, 0xB4, 0xE9, 0xFF},
			strip: color.NRGBA{0x56, 0xB4, 0xE9, 0x4C},
		},
		second: tone{ // orange
			line:  color.NRGBA{0xE6, 0x9F, 0x00, 0xFF},
			strip: color.NRGBA{0xE6, 0x9F, 0x00, 0x52},
		},
		change: tone{line: color.NRGBA{0x00, 0x9E, 0x73, 0xFF}, strip: color.NRGBA{0x00, 0x9E, 0x73, 0x50}}, // bluish green
		quiet:  tone{line: color.NRGBA{0xA9, 0xB5, 0xC0, 0xFF}, strip: faded(ink, 0x20)},
	}
}

func faded(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}
