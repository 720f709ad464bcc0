# The comparison of a study as a person would do it in R: Welch's tests of the conditions at each setting with Holm's adjustment, an
# analysis of variance, Tukey's differences between settings. Only what Debian's r-base-core brings.
# Run: Rscript tools/bench/study.R FILE.csv   Prints the seconds without the start of R.
took <- system.time({
  d <- read.csv(commandArgs(TRUE)[1])
  d$setting <- factor(d$setting)
  p <- c()
  for (s in split(d, list(d$material, d$setting), drop = TRUE))
    if (length(unique(s$condition)) == 2) p <- c(p, t.test(strength ~ condition, s)$p.value)
  p <- p.adjust(p, "holm")
  a <- aov(strength ~ material * condition * setting, d)
  t <- TukeyHSD(a, "setting")
  b <- aggregate(strength ~ material + condition + setting, d, function(x) c(length(x), mean(x), sd(x)))
})["elapsed"]
cat("seconds", took, "\n", sep = " ")
