package draw

import "image/color"

// Ground holds the colours of a picture. They are those of Okabe & Ito (2008), "Color universal design",
// which can be distinguished in every common form of colour blindness (values
// from memory of their table), with tints of one ink around them. Only the two
// thresholds are coloured; all else differs in shape, dash or words.
type Ground struct {
	Paper, Ink, Soft, Axis, Grid color.Color // ink for text and data, soft for what comes second
	Band, Zone                   color.Color // band of the curve, tint of every other zone
	First, Second                Tone        // LT1, LT2
	Change, Quiet                Tone        // a shift between tests; neither
}

// Tone is the colour of a mark and of the strip that belongs to it.
type Tone struct{ Line, Strip color.Color }

// Light is a white ground.
func Light() Ground {
	ink := color.NRGBA{0x16, 0x22, 0x2E, 0xFF}
	return Ground{
		Paper: color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF},
		Ink:   ink,
		Soft:  color.NRGBA{0x55, 0x62, 0x6E, 0xFF},
		Axis:  color.NRGBA{0x9A, 0xA5, 0xAF, 0xFF},
		Grid:  color.NRGBA{0xE6, 0xEA, 0xED, 0xFF},
		Band:  faded(ink, 0x24),
		Zone:  faded(ink, 0x0B),
		First: Tone{ // blue and sky blue
			Line:  color.NRGBA{0x00, 0x72, 0xB2, 0xFF},
			Strip: color.NRGBA{0x56, 0xB4, 0xE9, 0x5C},
		},
		Second: Tone{ // vermillion and orange
			Line:  color.NRGBA{0xD5, 0x5E, 0x00, 0xFF},
			Strip: color.NRGBA{0xE6, 0x9F, 0x00, 0x66},
		},
		Change: Tone{Line: color.NRGBA{0x00, 0x9E, 0x73, 0xFF}, Strip: color.NRGBA{0x00, 0x9E, 0x73, 0x40}}, // bluish green
		Quiet:  Tone{Line: color.NRGBA{0x55, 0x62, 0x6E, 0xFF}, Strip: faded(ink, 0x18)},
	}
}

// Dark is a dark ground.
func Dark() Ground {
	ink := color.NRGBA{0xF1, 0xF4, 0xF6, 0xFF}
	return Ground{
		Paper: color.NRGBA{0x12, 0x1C, 0x26, 0xFF},
		Ink:   ink,
		Soft:  color.NRGBA{0xA9, 0xB5, 0xC0, 0xFF},
		Axis:  color.NRGBA{0x6B, 0x79, 0x86, 0xFF},
		Grid:  color.NRGBA{0x27, 0x33, 0x3E, 0xFF},
		Band:  faded(ink, 0x30),
		Zone:  faded(ink, 0x0E),
		First: Tone{ // sky blue
			Line:  color.NRGBA{0x56, 0xB4, 0xE9, 0xFF},
			Strip: color.NRGBA{0x56, 0xB4, 0xE9, 0x4C},
		},
		Second: Tone{ // orange
			Line:  color.NRGBA{0xE6, 0x9F, 0x00, 0xFF},
			Strip: color.NRGBA{0xE6, 0x9F, 0x00, 0x52},
		},
		Change: Tone{Line: color.NRGBA{0x00, 0x9E, 0x73, 0xFF}, Strip: color.NRGBA{0x00, 0x9E, 0x73, 0x50}}, // bluish green
		Quiet:  Tone{Line: color.NRGBA{0xA9, 0xB5, 0xC0, 0xFF}, Strip: faded(ink, 0x20)},
	}
}

func faded(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}
