#!/usr/bin/env bash
set -euo pipefail

# The same fits by this library, gonum, the GNU Scientific Library, SciPy, NumPy
# and R, in one run on one machine, and the table of what each takes. On Debian,
# as root; elsewhere install the five packages first. Not part of CI.

cd "$(dirname "$0")"
tmp="$(mktemp -d)"
trap 'rm -rf "$tmp"' EXIT

# Debian's own Python, which its packages belong to.
python=/usr/bin/python3
if ! { command -v gsl-config && command -v Rscript && command -v cc && "$python" -c 'import scipy' && Rscript -e 'library(quadprog)'; } >/dev/null 2>&1; then
	apt-get update
	apt-get install -y --no-install-recommends gcc libc6-dev libgsl-dev python3-scipy r-base-core r-cran-quadprog
fi >&2

go build -o "$tmp/speed" .
"$tmp/speed" -write "$tmp"
# shellcheck disable=SC2046 # several words each
cc -O2 -o "$tmp/gsl" others/gsl.c $(gsl-config --cflags --libs)

# In turn, and the best of three: what else the machine does hits all alike.
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1
for _ in 1 2 3; do
	"$tmp/speed"
	"$tmp/gsl" "$tmp/points.csv" "$tmp/start.csv"
	"$python" others/scipy_fits.py "$tmp/points.csv" "$tmp/start.csv"
	Rscript --vanilla others/fits.R "$tmp/points.csv" "$tmp/start.csv"
done >"$tmp/rows.csv"
"$tmp/speed" -table <"$tmp/rows.csv"

# The bracket of LT1 whatever the shape: convex shapes here, convex regression by
# quadratic programming with a bootstrap in R.
echo
GOMAXPROCS=1 "$tmp/speed" -bracket
Rscript --vanilla others/convex.R "$tmp/points.csv"
