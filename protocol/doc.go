// Package protocol plans step tests in the pool, and keeps their sheets.
package protocol
