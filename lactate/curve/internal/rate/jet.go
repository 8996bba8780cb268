package rate

// A jet is a function of a small step h up to its cube: a + b·h + c·h² + d·h³.
type jet struct{ a, b, c, d float64 }

func (x jet) plus(y jet) jet { return jet{x.a + y.a, x.b + y.b, x.c + y.c, x.d + y.d} }

func (x jet) minus(y jet) jet { return jet{x.a - y.a, x.b - y.b, x.c - y.c, x.d - y.d} }

func (x jet) times(y jet) jet {
	return jet{
		x.a * y.a,
		x.a*y.b + x.b*y.a,
		x.a*y.c + x.b*y.b + x.c*y.a,
		x.a*y.d + x.b*y.c + x.c*y.b + x.d*y.a,
	}
}

// inverse returns 1/x.
func (x jet) inverse() jet {
	a := 1 / x.a
	b := -a * x.b * a
	c := -a * (x.b*b + x.c*a)
	return jet{a, b, c, -a * (x.b*c + x.c*b + x.d*a)}
}
