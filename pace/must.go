package pace

// Must returns v, and panics if err is not nil. It is for literals, for which an
// error is a fault of the program: pace.Must(pace.ParseTime("5:32.4")).
func Must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
