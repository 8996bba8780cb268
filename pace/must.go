package pace

// must returns v, or panics: for literals, where an error is a bug of ours.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
