package uncertain

// DayToDay is the typical error of a swimmer's speed between tests a few days apart, as a
// share of it; lactate.CompareOptions and between.Options name its source.
const DayToDay = 0.008
