# Reference values for tests/RigDaq.Core.Tests/Statistics/MultivariateTTest.cs, by R 4.2 with mvtnorm (Debian 12: r-base-core, r-cran-mvtnorm).
# Run: Rscript tools/reference/multivariate-t.R
suppressMessages(library(mvtnorm)); set.seed(1)
alg <- GenzBretz(maxpts = 1e6, abseps = 1e-6, releps = 0)
say <- function(name, t, r, df) { k <- nrow(r)
  one <- 1 - pmvt(upper = rep(t, k), corr = r, df = df, algorithm = alg); two <- 1 - pmvt(lower = rep(-t, k), upper = rep(t, k), corr = r, df = df, algorithm = alg)
  cat(sprintf("%s t=%g df=%d one=%.6f two=%.6f\n", name, t, df, one, two)) }
half <- function(k) { r <- matrix(.5, k, k); diag(r) <- 1; r }
ar <- function(k) outer(1:k, 1:k, function(i, j) .8^abs(i - j))
mixed <- matrix(c(1, .5, .3, 0, .5, 1, 0, .4, .3, 0, 1, .5, 0, .4, .5, 1), 4); opposed <- matrix(c(1, -.5, -.5, 1), 2)
for (df in c(3, 12, 45)) { say("half3", 2.1, half(3), df); say("half8", 2.5, half(8), df); say("ar5", 2.2, ar(5), df); say("mixed4", 1.8, mixed, df); say("opposed2", 2, opposed, df) }
