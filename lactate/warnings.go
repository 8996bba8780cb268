package lactate

// The doubts that [Analyze] raises.
const (
	WarnFewStages    WarningKind = "few stages"                 // fewer than five with a lactate sample
	WarnLostSamples  WarningKind = "lost samples"               // stages without a lactate sample
	WarnNotMaximal   WarningKind = "not maximal"                // the last stage does not look like an all-out effort
	WarnLactateFell  WarningKind = "lactate fell"               // a fall of lactate after it had begun to rise
	WarnFirstHigh    WarningKind = "first sample high"          // the second sample alone is lower than the first, and the curve does not follow it down
	WarnCurveDips    WarningKind = "curve dips"                 // the fitted curve falls inside the tested range
	WarnCurveUnbent  WarningKind = "curve does not bend"        // the fitted curve does not bend upward
	WarnCurveMisses  WarningKind = "curve misses"               // the samples lie farther from the curve than the stated noise explains
	WarnNoBaseline   WarningKind = "no baseline"                // lactate rises from the first stage on; low ends of brackets then take the baseline to lie anywhere from 0.5 mmol/L to the start of the curve (our assumption)
	WarnDmaxLow      WarningKind = "Dmax low"                   // Dmax or modified Dmax (first of Values) does not lie above LT1, or not surely
	WarnOddHeartRate WarningKind = "odd heart rate"             // a heart rate far off its neighbours', left out
	WarnInLastGap    WarningKind = "in last gap"                // a threshold between the last two stages
	WarnOpenInterval WarningKind = "open interval"              // an interval that the tested range cuts off
	WarnOutOfOrder   WarningKind = "out of order"               // LT1 does not lie below LT2, or not surely
	WarnPairUnseen   WarningKind = "pair not seen"              // the brackets of LT1 and LT2 overlap, and the baseline was not seen
	WarnEndsEarly    WarningKind = "ends early"                 // the test or its samples end before the effort is all out
	WarnSampleAbove  WarningKind = "sample above"               // a stage below LT1 or LT2 has more lactate than there already
	WarnOddSample    WarningKind = "odd sample"                 // a sample far outside what the others lead to expect
	WarnUncounted    WarningKind = "degrees of freedom unknown" // the curve is taken for one that interpolates, and does not
	WarnNoScale      WarningKind = "no scale"                   // nothing says how large the noise is, and there is no interval
)
