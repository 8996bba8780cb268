// Package zones makes training zones and sets from two threshold speeds.
package zones
