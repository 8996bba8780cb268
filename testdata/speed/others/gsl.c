/* Fits of points.csv and start.csv (see ../data.go) by the GNU Scientific
   Library: processor time, best of many batches. Workspaces are made once;
   start values are given, and derivatives are exact. */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_version.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { SETS = 64, STAGES = 6, BATCHES = 15 };

struct points {
  size_t n;
  double x[2 * STAGES], y[2 * STAGES], after[2 * STAGES], top;
  double start[4];
};
static struct points one[SETS], two[SETS];

static int f(const gsl_vector *p, void *data, gsl_vector *out) {
  const struct points *d = data;
  const double a = gsl_vector_get(p, 0), b = gsl_vector_get(p, 1), c = gsl_vector_get(p, 2);
  const double shift = p->size > 3 ? gsl_vector_get(p, 3) : 0;
  for (size_t i = 0; i < d->n; i++)
    gsl_vector_set(out, i, a + b * exp(c * (d->x[i] - d->top - shift * d->after[i])) - d->y[i]);
  return GSL_SUCCESS;
}

static int df(const gsl_vector *p, void *data, gsl_matrix *out) {
  const struct points *d = data;
  const double b = gsl_vector_get(p, 1), c = gsl_vector_get(p, 2);
  const double shift = p->size > 3 ? gsl_vector_get(p, 3) : 0;
  for (size_t i = 0; i < d->n; i++) {
    const double dx = d->x[i] - d->top - shift * d->after[i];
    const double e = exp(c * dx);
    gsl_matrix_set(out, i, 0, 1);
    gsl_matrix_set(out, i, 1, e);
    gsl_matrix_set(out, i, 2, b * dx * e);
    if (p->size > 3) gsl_matrix_set(out, i, 3, -b * c * d->after[i] * e);
  }
  return GSL_SUCCESS;
}

static gsl_multifit_nlinear_workspace *nonlinear[2];
static gsl_multifit_linear_workspace *linear;
static gsl_matrix *X, *cov;
static gsl_vector *coef;

/* Each fits one set and returns the residual sum of squares, or NaN. */
static double curve(struct points *d, size_t parameters) {
  gsl_multifit_nlinear_workspace *w = nonlinear[parameters - 3];
  gsl_multifit_nlinear_fdf fdf = {.f = f, .df = df, .n = d->n, .p = parameters, .params = d};
  gsl_vector_view start = gsl_vector_view_array(d->start, parameters);
  int info;
  double rss;
  gsl_multifit_nlinear_init(&start.vector, &fdf, w);
  if (gsl_multifit_nlinear_driver(200, 1e-8, 1e-8, 0, NULL, NULL, &info, w)) return NAN;
  gsl_blas_ddot(w->f, w->f, &rss);
  return rss;
}
static double exponential(int set) { return curve(&one[set], 3); }
static double shift(int set) { return curve(&two[set], 4); }
static double cubic(int set) {
  const struct points *d = &one[set];
  double rss;
  gsl_vector_const_view y = gsl_vector_const_view_array(d->y, d->n);
  for (size_t i = 0; i < d->n; i++) {
    const double x = d->x[i];
    gsl_matrix_set(X, i, 0, 1);
    gsl_matrix_set(X, i, 1, x);
    gsl_matrix_set(X, i, 2, x * x);
    gsl_matrix_set(X, i, 3, x * x * x);
  }
  gsl_multifit_linear(X, &y.vector, coef, cov, &rss, linear);
  return rss;
}

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

static void report(const char *work, double (*fit)(int)) {
  double best = INFINITY;
  volatile double sink = 0;
  for (int set = 0; set < SETS; set++)
    printf("fit,GSL %s,%s,%d,%.17g\n", gsl_version, work, set, fit(set));
  for (int batch = 0; batch < BATCHES; batch++) {
    const double begin = now();
    double took;
    long fits = 0;
    do {
      for (int set = 0; set < SETS; set++) sink += fit(set);
      fits += SETS;
      took = now() - begin;
    } while (took < 0.02);
    best = fmin(best, took / fits);
  }
  printf("time,GSL %s,%s,%.17g\n", gsl_version, work, 1e9 * best);
}

static FILE *open_or_die(const char *name) {
  FILE *in = fopen(name, "r");
  if (!in) {
    perror(name);
    exit(1);
  }
  if (fscanf(in, "%*[^\n]\n") == EOF) exit(1);
  return in;
}

int main(int argc, char **argv) {
  int set, after;
  double x, y, s[3];
  if (argc != 3) return 2;
  gsl_set_error_handler_off();
  FILE *in = open_or_die(argv[1]);
  while (fscanf(in, "%d,%d,%lf,%lf", &set, &after, &x, &y) == 4) {
    for (struct points *d = after ? &two[set] : &one[set];; d = &two[set]) {
      d->x[d->n] = x;
      d->y[d->n] = y;
      d->after[d->n++] = after;
      if (d == &two[set]) break;
    }
  }
  fclose(in);
  in = open_or_die(argv[2]);
  while (fscanf(in, "%d,%lf,%lf,%lf,%lf", &set, &x, &s[0], &s[1], &s[2]) == 5) {
    one[set].top = two[set].top = x;
    for (int i = 0; i < 3; i++) one[set].start[i] = two[set].start[i] = s[i];
  }
  fclose(in);
  gsl_multifit_nlinear_parameters par = gsl_multifit_nlinear_default_parameters();
  nonlinear[0] = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &par, STAGES, 3);
  nonlinear[1] = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &par, 2 * STAGES, 4);
  linear = gsl_multifit_linear_alloc(STAGES, 4);
  X = gsl_matrix_alloc(STAGES, 4);
  cov = gsl_matrix_alloc(4, 4);
  coef = gsl_vector_alloc(4);
  report("exponential", exponential);
  report("cubic", cubic);
  report("shift", shift);
  return 0;
}
