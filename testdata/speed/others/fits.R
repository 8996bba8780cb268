# Fits of points.csv and start.csv (see ../data.go) by R: processor time, best of
# a few long batches, since its clock ticks in milliseconds. Start values are
# given.
files <- commandArgs(trailingOnly = TRUE)
points <- read.csv(files[1])
starts <- read.csv(files[2])
sets <- unique(points$set)
batches <- 4
both <- lapply(sets, function(s) subset(points, set == s))
first <- lapply(both, function(d) subset(d, after == 0))
start <- lapply(sets, function(s) as.list(subset(starts, set == s)))

exponential <- function(i) {
  top <- start[[i]]$top
  fit <- nls(y ~ a + b * exp(c * (x - top)), first[[i]], start = start[[i]][c("a", "b", "c")])
  sum(residuals(fit)^2)
}
shift <- function(i) {
  top <- start[[i]]$top
  fit <- nls(y ~ a + b * exp(c * (x - top - d * after)), both[[i]],
             start = c(start[[i]][c("a", "b", "c")], d = 0))
  sum(residuals(fit)^2)
}
cubic <- function(i) {
  d <- first[[i]]
  sum(lm.fit(outer(d$x, 0:3, `^`), d$y)$residuals^2)
}

report <- function(work, fit) {
  name <- paste0("R ", getRversion(), if (work == "cubic") " lm.fit" else " nls")
  attempt <- function(i) tryCatch(fit(i), error = function(e) NaN)
  for (i in seq_along(sets))
    cat(sprintf("fit,%s,%s,%d,%.17g\n", name, work, sets[i], attempt(i)))
  best <- Inf
  for (batch in seq_len(batches)) {
    begin <- sum(proc.time()[1:2])
    fits <- 0
    repeat {
      for (i in seq_along(sets)) attempt(i)
      fits <- fits + length(sets)
      took <- sum(proc.time()[1:2]) - begin
      if (took >= 0.2) break
    }
    best <- min(best, took / fits)
  }
  cat(sprintf("time,%s,%s,%.17g\n", name, work, 1e9 * best))
}

report("exponential", exponential)
report("cubic", cubic)
report("shift", shift)
