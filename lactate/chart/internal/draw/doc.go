// Package draw holds the drawing tools of package chart: paper and ink, panels
// with their axes, and places for labels. It knows speeds and paces, and nothing
// about lactate.
package draw
