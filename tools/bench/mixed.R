# lme4's fit of strengths in groups, prints and stretches, and Kenward and Roger's covariance by pbkrtest.
# Debian: r-cran-lme4, r-cran-pbkrtest.
# Run: Rscript tools/bench/mixed.R FILE.csv   Prints the seconds of the fit, and of fit and one contrast.
suppressMessages({library(lme4); library(pbkrtest)})
d <- read.csv(commandArgs(TRUE)[1])
d$g <- factor(paste(d$material, d$condition, d$setting)); d$ps <- factor(paste(d$print, d$setting)); d$y <- log(d$strength)
took <- system.time(m <- lmer(y ~ 0 + g + (1 | print) + (1 | ps), d))["elapsed"]
cat("lmer", took, "\n", sep = " "); flush(stdout())
more <- system.time({VA <- vcovAdj(m); L <- c(1, -1, rep(0, nlevels(d$g) - 2)); Lb_ddf(L, vcov(m), VA)})["elapsed"]
cat("kenward", took + more, "\n", sep = " ")
