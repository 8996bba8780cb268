package api_test

import (
	"reflect"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/squad"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/zones"
)

// hostileFunctions are the exported functions of every library package, by the
// path of the package and their name.
var hostileFunctions = map[string]any{
	"lactate/forecast.Sample":  forecast.Sample,
	"lactate/forecast.Space":   forecast.Space,
	"protocol.LeaveList":       protocol.LeaveList,
	"protocol.InSwimming":      protocol.InSwimming,
	"protocol.InWords":         protocol.InWords,
	"protocol.BySwimmer":       protocol.BySwimmer,
	"protocol.Differences":     protocol.Differences,
	"protocol.Numbered":        protocol.Numbered,
	"protocol/sheet.WriteForm": sheet.WriteForm,
	"lactate/table.Alone":      table.Alone,
	"lactate/table.Answer":     table.Answer,
	"lactate/table.InHundred":  table.InHundred,
	"lactate/table.Trend":      table.Trend,
	"lactate/table.Threshold":  table.Threshold,
	"lactate.ParseMethod":      lactate.ParseMethod,
	"lactate.ParseNoise":       lactate.ParseNoise,
	"lactate/table.Clean":      table.Clean,
	"lactate/table.Short":      table.Short,
	"lactate/table.Capital":    table.Capital,
	"lactate/table.Bare":       table.Bare,
	"lactate/table.Day":        table.Day,
	"pace.Saved":               pace.Saved,
	"pace.Swims":               pace.Swims,
	"pace.WantSwim":            pace.WantSwim,
	"pace.WithColon":           pace.WithColon,
	"lactate/table.Reason":     table.Reason,
	"lactate/table.Squad":      table.Squad,
	"lactate/table.SquadSheet": table.SquadSheet,
	"pace.TimeReadings":        pace.TimeReadings,
	"protocol.CleanName":       protocol.CleanName,
	"zones.Named":              zones.Named,
	"zones.WriteWeek":          zones.WriteWeek,
	"lactate.Analyze":          lactate.Analyze,
	"lactate.AnalyzeAll":       lactate.AnalyzeAll[string],
	"lactate.Catalogue":        lactate.Catalogue,
	"lactate.CommonCurves":     lactate.CommonCurves,
	"lactate.Compare":          lactate.Compare,
	"lactate.CoreMethods":      lactate.CoreMethods,
	"lactate.CurveName":        lactate.CurveName,
	"lactate.DefaultNoise":     lactate.DefaultNoise,
	"lactate.FollowSeason":     lactate.FollowSeason,
	"lactate.Influence":        lactate.Influence,
	"lactate.LactateMinimum":   lactate.LactateMinimum,
	"lactate.PeakLactate":      lactate.PeakLactate,
	"lactate.PooledNoise":      lactate.PooledNoise,
	"lactate.SideBySide":       lactate.SideBySide,
	"lactate/between.New":      between.New,
	"lactate/chart.Between":    chart.Between,
	"lactate/chart.Methods":    chart.Methods,
	"lactate/chart.OneTest":    chart.OneTest,
	"lactate/chart.Plan":       chart.Plan,
	"lactate/chart.Season":     chart.Season,
	"lactate/chart.Technique":  chart.Technique,
	"lactate/chart.TwoTests":   chart.TwoTests,

	"lactate/chart.SideBySide":    chart.SideBySide,
	"lactate/forecast.Next":       forecast.Next,
	"lactate/forecast.Of":         forecast.Of,
	"lactate/heartrate.Compare":   heartrate.Compare,
	"lactate/heartrate.Fit":       heartrate.Fit,
	"lactate/table.Change":        table.Change,
	"lactate/table.Clock":         table.Clock,
	"lactate/table.Influence":     table.Influence,
	"lactate/table.Method":        table.Method,
	"lactate/table.Line":          table.Line,
	"lactate/table.Number":        table.Number,
	"lactate/table.Pace":          table.Pace,
	"lactate/table.Season":        table.Season,
	"lactate/table.SideBySide":    table.SideBySide,
	"lactate/table.Signed":        table.Signed,
	"lactate/table.Between":       table.Between,
	"lactate/table.Due":           table.Due,
	"lactate/table.Stages":        table.Stages,
	"lactate/table.Thresholds":    table.Thresholds,
	"lactate/table.Warnings":      table.Warnings,
	"lactate/table.Within":        table.Within,
	"lactate/table.Wrap":          table.Wrap,
	"pace.CriticalSpeed":          pace.CriticalSpeed,
	"pace.FormatTime":             pace.FormatTime,
	"pace.LCM":                    pace.LCM,
	"pace.MeanSpeed":              pace.MeanSpeed,
	"pace.Must":                   nil, // panics by its contract
	"pace.NewPool":                pace.NewPool,
	"pace.ParseLength":            pace.ParseLength,
	"pace.ParsePace":              pace.ParsePace,
	"pace.ParsePool":              pace.ParsePool,
	"pace.ParseSpeed":             pace.ParseSpeed,
	"pace.ParseTime":              pace.ParseTime,
	"pace.SCM":                    pace.SCM,
	"pace.SCY":                    pace.SCY,
	"protocol.Cautions":           protocol.Cautions,
	"protocol.Faults":             protocol.Faults,
	"protocol.FoldName":           protocol.FoldName,
	"protocol.NewPlan":            protocol.NewPlan,
	"protocol.Schedule":           protocol.Schedule,
	"protocol/sheet.Read":         sheet.Read,
	"protocol/sheet.ReadReadings": sheet.ReadReadings,
	"protocol/sheet.Scan":         sheet.Scan,
	"protocol/sheet.Write":        sheet.Write,
	"protocol/sheet.WritePlan":    sheet.WritePlan,
	"protocol/technique.Compare":  technique.Compare,
	"protocol/technique.Of":       technique.Of,
	"zones.Domains":               zones.Domains,
	"zones.FiveZoneHeartRate":     zones.FiveZoneHeartRate,
	"zones.FiveZoneLactate":       zones.FiveZoneLactate,
	"zones.ParseBound":            zones.ParseBound,
	"zones.ProfileOf":             zones.ProfileOf,
	"zones.ReadScheme":            zones.ReadScheme,
	"zones.ReadWeek":              zones.ReadWeek,
	"zones.ThreeZone":             zones.ThreeZone,
}

// hostileTypes are the exported types with methods, by the path of the package
// and their name.
var hostileTypes = map[string]reflect.Type{}

func init() {
	add := func(pkg string, vs ...any) {
		for _, v := range vs {
			t := reflect.TypeOf(v).Elem()
			hostileTypes[pkg+"."+t.Name()] = t
		}
	}
	add("pace", new(pace.Critical), new(pace.Length), new(pace.Pace), new(pace.ParseError), new(pace.Pool),
		new(pace.Segment), new(pace.Speed), new(pace.Stroke))
	add("lactate", new(lactate.AboveBaseline), new(lactate.AboveLowestEquivalent), new(lactate.Analysis), new(lactate.Baseline),
		new(lactate.Change), new(lactate.ChordStart), new(lactate.CommonExponential), new(lactate.CompareOptions), new(lactate.Definition), new(lactate.Ends), new(lactate.Estimate),
		new(lactate.FirstTurnPoint), new(lactate.Fixed), new(lactate.FixedSlope), new(lactate.Judgement), new(lactate.LactateScale), new(lactate.LevelChange),
		new(lactate.LogLog), new(lactate.LogLogMaxDistance), new(lactate.LowestLactateEquivalent), new(lactate.MaxDistance),
		new(lactate.ModifiedMaxDistance), new(lactate.Noise), new(lactate.NotReachedError), new(lactate.ObservedRise), new(lactate.Options),
		new(lactate.OutsideRangeError), new(lactate.Panel), new(lactate.PanelCurve), new(lactate.Reading), new(lactate.RecoveryTangent),
		new(lactate.Season), new(lactate.SecondTurnPoint), new(lactate.ShapeTest), new(lactate.Spread), new(lactate.StageError), new(lactate.Target), new(lactate.Test),
		new(lactate.Threshold), new(lactate.ThresholdChange), new(lactate.TwoSpeed), new(lactate.Grade), new(lactate.Warning))
	add("lactate/curve", new(curve.BrokenLine), new(curve.Convex), new(curve.ConvexShifted), new(curve.ShiftPosterior), new(curve.Exponential), new(curve.Polynomial), new(curve.Shifted), new(curve.ThreeLine))
	add("lactate/between", new(between.Course), new(between.Due), new(between.Model), new(between.Options), new(between.Told))
	add("lactate/chart", new(chart.Picture))
	add("lactate/forecast", new(forecast.Reason), new(forecast.StageError), new(forecast.Threshold))
	add("lactate/heartrate", new(heartrate.Line))
	add("lactate/table", new(table.Table), new(table.Tables))
	add("protocol", new(protocol.Fault), new(protocol.Grave), new(protocol.Note), new(protocol.Range), new(protocol.Plan), new(protocol.Record), new(protocol.Repeat), new(protocol.Request), new(protocol.RequestError), new(protocol.Target))
	add("protocol/sheet", new(sheet.DateOrder), new(sheet.Options))
	add("protocol/squad", new(squad.Sheets))
	add("protocol/technique", new(technique.Basis), new(technique.Error), new(technique.Profile), new(technique.Shortening))
	add("zones", new(zones.Week), new(zones.Anchor), new(zones.Bound), new(zones.Distribution), new(zones.Edge), new(zones.Profile), new(zones.RepeatError), new(zones.Drift), new(zones.Scheme),
		new(zones.Table), new(zones.Workout), new(zones.Zone))
}
