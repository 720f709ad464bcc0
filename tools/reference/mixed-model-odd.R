# Further tables for tests/RigDaq.Core.Tests/Statistics/Mixed, by another generator than mixed-model.R: gamma and heavy-tailed scatter, extremes of every kind.
# Run after mixed-model.R: Rscript tools/reference/mixed-model-odd.R tests/RigDaq.Core.Tests/Statistics/Mixed/tables
# The fit and the contrasts are those of mixed-model.R; components.csv is added to.
lines <- readLines("tools/reference/mixed-model.R")
eval(parse(text = lines[seq_len(grep("^for \\(i in 1:2\\) save", lines)[1] - 1)]))
components <- read.csv(file.path(out, "components.csv"), colClasses = "character", check.names = FALSE)
components <- components[!grepl("^odd-", components$table), ]

odd <- function(seed, materials, conditions, settings, prints, count, level = function(m) 30, spread = .06, tail = 5) {
  set.seed(seed, kind = "Wichmann-Hill", normal.kind = "Ahrens-Dieter"); d <- NULL
  for (m in materials) for (c in conditions) for (p in seq_len(if (is.function(prints)) prints(m, c) else prints)) { u <- .04 * (rgamma(1, 4) / 4 - 1)
    for (s in settings) { v <- runif(1, -.02, .02); n <- count(m, c, p, s)
      if (n > 0) d <- rbind(d, data.frame(material = m, condition = c, setting = s, print = paste("p", p), strength_MPa = level(m) * exp(u + v + spread * rt(n, tail) / 2 - .003 * (as.numeric(s) - min(as.numeric(settings)))))) } }
  d$print <- paste(d$material, d$condition, d$print); d$strength_MPa <- signif(d$strength_MPa, 9); d }
any <- function(...) sample(c(...), 1)

save("odd-two-prints", odd(1, "Alder", c("on", "off"), c(200, 215, 240), 2, function(...) 6))
save("odd-two-prints-in-all", odd(2, "Alder", "on", c(200, 215, 240), 2, function(...) 5))
for (i in 1:2) save(paste0("odd-one-specimen-here-and-there-", i), odd(10 + i, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) any(1, 1, 5)))
for (i in 1:2) save(paste0("odd-imbalance-", i), odd(20 + i, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), function(m, c) if (m == "Alder") 2 else 5, function(m, c, p, s) if (p == 1) 60 else 2))
save("odd-scales", odd(30, c("Foam", "Alder", "Steel"), c("on", "off"), c(200, 220), 3, function(...) 4, function(m) c(Foam = .002, Alder = 30, Steel = 4e5)[m]))
save("odd-ten-materials", odd(40, LETTERS[1:10], c("on", "off"), c(200, 220, 240), 2, function(...) any(2, 3, 4), function(m) 20 + 3 * match(m, LETTERS)))
save("odd-settings", odd(50, c("Alder", "Birch"), c("on", "off"), c("-5", "0", "0.25", "1000"), 3, function(...) 4))
{ d <- odd(70, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) 5); d[d$print == d$print[1] & d$setting == 220, "strength_MPa"] <- 29.5; save("odd-stretch-without-scatter", d) }
{ d <- odd(71, c("Alder", "Birch"), c("on", "off"), c(200, 220), 3, function(...) 3); save("odd-every-row-twice", d[rep(seq_len(nrow(d)), each = 2), ]) }
for (i in 1:2) save(paste0("odd-groups-of-one-", i), odd(80 + i, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), function(m, c) if (m == "Birch" && c == "off") 1 else 3, function(m, c, p, s) if (m == "Birch" && c == "off") 1 else any(2, 4)))
for (i in 1:2) save(paste0("odd-gaps-", i), odd(90 + i, c("Alder", "Birch", "Cedar"), c("on", "off"), c(200, 210, 220, 230, 240), 4, function(m, c, p, s) if ((p + s / 10) %% 3 == 0) 0 else any(1, 3, 7)))
for (i in 1:2) save(paste0("odd-tails-", i), odd(100 + i, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) any(3, 8), tail = 2.1, spread = .2))
save("odd-one-print-of-one", odd(120, c("Alder", "Birch", "Cedar"), "on", c(200, 220), function(m, c) c(Alder = 1, Birch = 1, Cedar = 4)[m], function(...) 5))
{ d <- odd(130, c('Alder, "old"', "B\u00efrch \u2013 2", "; drop"), c("fan on, 100 %", "=1+1"), c(200, 220, 240), 3, function(...) 4); save("odd-names", d) }
save("odd-twelve-settings", odd(150, c("Alder", "Birch"), c("on", "off"), seq(180, 290, 10), 2, function(...) 3))
save("odd-fractions-of-a-unit", odd(151, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) 4, function(m) 1e-3))
save("odd-ten-thousand", odd(152, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) 4, function(m) 1e4))
{ d <- odd(153, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) 6); d$strength_MPa <- round(d$strength_MPa); save("odd-whole-numbers", d) }
{ d <- odd(154, c("Alder", "Birch"), c("on", "off"), c(200, 220, 240), 3, function(...) 5); d[d$setting == 220, "strength_MPa"] <- 29; save("odd-setting-all-equal", d) }
for (i in 1:3) save(paste0("odd-sparse-", i), odd(160 + i, c("Alder", "Birch"), c("on", "off"), c(200, 205, 210, 220, 260), function(m, c) any(2, 3, 4), function(...) any(0, 0, 1, 1, 2, 9)))

# With two settings a slope is last against first, and is given once.
for (name in c("odd-scales", "odd-every-row-twice")) { f <- file.path(out, paste0(name, ".answers.csv")); l <- readLines(f); writeLines(l[!grepl("^condition trend slope", l)], f) }
