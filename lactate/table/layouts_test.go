package table_test

// layouts are what the tables of byHand look like.
var layouts = map[string]string{
	"change": `how far has the curve moved?
  at the same lactate        s per 100 m faster    90 % bracket  in 100 faster  least *  grade
  measurement error alone                 +16.0  +13.9 to +18.0           > 99     +3.8  faster
  with day-to-day variation               +16.0   −6.0 to +29.0             78     +3.8  probably faster
  * true change seen 80 times in 100.
  Times at the LT2 of the first test, 1:20.0/100 m.

how far have the thresholds moved, each test on its own curve?
  definition     pace per 100 m, before   after  s per 100 m faster  90 % bracket
  LT1: 3 mmol/L                  1:20.0  1:02.5               +17.5  +5.9 to open
  LT2: 4 mmol/L                    none
  2 mmol/L                       1:23.3  1:20.0                +3.3
  LT2: 4 mmol/L: too little.

lactate and heart rate at the same speed, before and after
  pace per 100 m  mmol/L before  after              change  /min before  after  change
          1:20.0            2.0    1.5  −0.5 (−1.0 to 0.0)          140    138      −2
          1:02.5            4.0                                     150
`,
	"change in watts": `how far has the curve moved?
  at the same lactate        change, W    90 % bracket  in 100 faster  least *  grade
  measurement error alone        +0.31  +0.26 to +0.36           > 99    +0.06  faster
  with day-to-day variation      +0.31  −0.09 to +0.71             78    +0.06  probably faster
  * true change seen 80 times in 100.

how far have the thresholds moved, each test on its own curve?
  definition     power, W, before   after  change, W   90 % bracket
  LT1: 3 mmol/L            1.25 W  1.60 W      +0.35  +0.10 to open
  LT2: 4 mmol/L              none
  2 mmol/L                 1.20 W  1.25 W      +0.05
  LT2: 4 mmol/L: too little.

lactate and heart rate at the same power, before and after
  power, W  mmol/L before  after              change  /min before  after  change
   1.250 W            2.0    1.5  −0.5 (−1.0 to 0.0)          140    138      −2
   1.600 W            4.0                                     150
`,
	"csv": `name,n
a & b,1
short,
`,
	"html": `<table>
<caption>c &lt;1&gt;</caption>
<thead><tr><th scope="col" style="text-align:left">name</th><th scope="col" style="text-align:right">n</th></tr></thead>
<tbody>
<tr><th scope="row" style="text-align:left">a &amp; b</th><td style="text-align:right">1</td></tr>
<tr><th scope="row" style="text-align:left">short</th><td style="text-align:right"></td></tr>
</tbody>
</table>
<p>note</p>
`,
	"influence": `each threshold with one stage left out
  definition     all stages  without 1  without 3
  LT1: 4 mmol/L      1:20.0   1:23.3 *       none
  LT2: 4 mmol/L      1:02.5     1:02.5   1:16.9 *
  * the stage that moves the threshold most.
`,
	"influence of one": `each threshold with one stage left out
  definition     all stages  without 1  without 3
  LT1: 4 mmol/L     1.250 W  1.200 W *       none
  LT2: 4 mmol/L     1.250 W  1.200 W *       none
  * the stage that moves the threshold most.
`,
	"line":          `1:20.0/100 m (1:23.3 to 1:16.9) by baseline + 0.5 mmol/L`,
	"line in watts": `1.250 W (1.200 to 1.300) by baseline + 0.5 mmol/L`,
	"long": `  - A note that is longer than a line of ninety-eight columns has to be broken into two of them,
    so it is.
`,
	"markdown": `**c &lt;1&gt;**

| name | n |
| :--- | ---: |
| a &amp; b | 1 |
| short |  |

note
`,
	"no definition": `none by no method`,
	"no interval":   `1:20.0`,
	"no line":       `none by Dmax: no bend, all told.`,
	"open line":     `1:02.5/100 m (1:16.9 to open) by 4 mmol/L`,
	"pace":          `1:20.0 (1:23.3 to 1:16.9)`,
	"panel": `definitions side by side
  definition  estimates       a     b  source      known from
  4 mmol/L    LT2        1:02.5  none  Mader 1976  from memory
  log–log     other      1:20.0        Beaver
  In each column: pace per 100 m, on that curve.
  b: no fit.
  4 mmol/L: no fit.
`,
	"panel in watts": `definitions side by side
  definition  estimates        a     b  source      known from
  4 mmol/L    LT2        1.600 W  none  Mader 1976  from memory
  log–log     other      1.250 W        Beaver
  In each column: power, W, on that curve.
  b: no fit.
  4 mmol/L: no fit.
`,
	"season": `how far has the curve moved since the first test?
  test                 LT2  s per 100 m faster   samples alone      with days  grade
  1 March 2025      1:02.5                                                     first test
  29 March 2025     1:02.5               +16.0  +13.9 to +18.0  −6.0 to +29.0  probably faster
  26 April 2025       none                −3.3    −4.7 to −2.0   −6.2 to −0.6  slower
  trend in 4 weeks                        +1.3                   +0.6 to +1.9  faster
  90 % brackets: by measurement error alone, and with good and bad days.
  Times at the LT2 of the first test, 1:20.0/100 m, at the same lactate.
`,
	"squad": `squad
  swimmer  test        LT1 per 100 m  /min  LT2 per 100 m  /min        since the last  what is odd
  Ann      2025-03-01   1:20.0 ± 3.2   140   1:02.5, open        16.0 ± 17.5 s faster
  Bo                                                                                   no thresholds: too few
  LT1, LT2: ± half the 90 % bracket; /min: heart rate there.
  Open: that end may lie outside the tested range; no figure can be given.
  Since the last: how much faster than in the test before at the same lactate, per 100 m; a change
  smaller than its ± may be that of two days.
`,
	"squad in watts": `squad
  swimmer  test       LT1 in W  /min      LT2 in W  /min          since the last  what is odd
  Ann            1.25 W ± 0.05   140  1.60 W, open        0.312 ± 0.400 W faster
  LT1, LT2: ± half the 90 % bracket; /min: heart rate there.
  Open: that end may lie outside the tested range; no figure can be given.
  Since the last: how much faster than in the test before at the same lactate, in W; a change
  smaller than its ± may be that of two days.
`,
	"stages": `what was done
  repeat    time  pace per 100 m  speed, m/s  lactate, mmol/L  heart rate, /min
       1                  1:20.0       1.250                                140
       2  0:50.0          1:02.5       1.600              4.0               170
  At rest: 0.9 mmol/L.
  After the last repeat: 1:00 8.0, 3:00 9.1 mmol/L.
`,
	"stages in watts": `what was done
  stage    time  power, W  lactate, mmol/L  heart rate, /min
      2             1.250                                140
      1  0:50.0     1.600              4.0               170
  At rest: 0.9 mmol/L.
  After the last stage: 1:00 8.0, 3:00 9.1 mmol/L.
`,
	"text": `c <1>
  name   n
  a & b  1
  short
  note
`,
	"thresholds": `LT1 and LT2
        pace per 100 m      90 % bracket  heart rate, /min  read by
  LT1           1:20.0  1:23.3 to 1:16.9  140 (135 to 146)  baseline + 0.5 mmol/L
  LT2           1:02.5    1:16.9 to open         not known  4 mmol/L
  Dmax            none
  LT2 by 2 of 3 definitions: from 1:16.9 (baseline + 1.5 mmol/L) to 1:02.5 (4 mmol/L).
  Dmax: no bend, all told.
  Open: that end may lie outside the tested range; no figure can be given.
  Baseline: 1.1 mmol/L, the lowest lactate on the fitted curve.
  Dmax depends on how the curve bends and on where the test starts and ends.

thresholds by definition, on the fitted curve
       definition             pace per 100 m      90 % bracket  lactate, mmol/L  heart rate, /min
  LT1  baseline + 0.5 mmol/L          1:20.0  1:23.3 to 1:16.9              1.6               140
  LT2  4 mmol/L                       1:02.5    1:16.9 to open              4.0
  LT2  Dmax                             none
  LT2  baseline + 1.5 mmol/L          1:16.9                                2.6
  Dmax: where the curve is farthest below a line from its start to its end; modified Dmax: from
  where lactate begins to rise.
`,
	"thresholds in watts": `LT1 and LT2
        power, W  90 % bracket  heart rate, /min  read by
  LT1     1.25 W  1.20 to 1.30  140 (135 to 146)  baseline + 0.5 mmol/L
  LT2     1.60 W  1.30 to open         not known  4 mmol/L
  Dmax      none
  LT2 by 2 of 3 definitions: from 1.30 W (baseline + 1.5 mmol/L) to 1.60 W (4 mmol/L).
  Dmax: no bend, all told.
  Open: that end may lie outside the tested range; no figure can be given.
  Baseline: 1.1 mmol/L, the lowest lactate on the fitted curve.
  Dmax depends on how the curve bends and on where the test starts and ends.

thresholds by definition, on the fitted curve
       definition             power, W  90 % bracket  lactate, mmol/L  heart rate, /min
  LT1  baseline + 0.5 mmol/L    1.25 W  1.20 to 1.30              1.6               140
  LT2  4 mmol/L                 1.60 W  1.30 to open              4.0
  LT2  Dmax                       none
  LT2  baseline + 1.5 mmol/L    1.30 W                            2.6
  Dmax: where the curve is farthest below a line from its start to its end; modified Dmax: from
  where lactate begins to rise.
`,
	"sheet": `swimmer,test,"LT1, s per 100 m",LT1 low,LT1 high,"LT1 heart rate, /min",LT1 by,"LT2, s per 100 m",LT2 low,LT2 high,"LT2 heart rate, /min",LT2 by,"faster than last, s per 100 m",faster low,faster high,what is odd
Ann,2025-03-01,80.0,76.9,83.3,140,baseline + 0.5 mmol/L,62.5,,76.9,,4 mmol/L,16.0,-6.0,29.0,
`,
	"influence in watts": `each threshold with one stage left out
  definition     all stages  without 1  without 3
  LT1: 4 mmol/L     1.250 W  1.200 W *       none
  LT2: 4 mmol/L     1.600 W    1.600 W  1.300 W *
  * the stage that moves the threshold most.
`,
	"one column": `| name |
| :--- |
`,
}
