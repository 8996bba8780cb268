// Package app is the computing behind the page: it takes a request and returns an
// answer, both JSON, and keeps nothing. The sheet is the state; it comes with each
// request, and goes back with each answer that changes it.
//
// The page shows what it is given: every number is text here already, in the swimmer's
// pool. All questions to the library about curves are in answer.go.
package app
