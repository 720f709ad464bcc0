# Reference values for tests/RigDaq.Core.Tests/Statistics/Mixed, by R 4.2 with lme4, pbkrtest and emmeans (Debian 12: r-base-core, r-cran-lme4,
# r-cran-pbkrtest, r-cran-emmeans). Invented strengths: only the arithmetic is compared.
# Run: Rscript tools/reference/mixed-model.R tests/RigDaq.Core.Tests/Statistics/Mixed/tables
# Writes NAME.csv (the table), NAME.answers.csv (contrasts by Kenward and Roger, on the logarithm) and components.csv.
suppressMessages({library(lme4); library(pbkrtest); library(emmeans)})
out <- commandArgs(TRUE)[1]; dir.create(out, showWarnings = FALSE, recursive = TRUE)
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e5), calc.derivs = FALSE, check.conv.singular = "ignore",
                     check.nobs.vs.nlev = "ignore", check.nobs.vs.nRE = "ignore", check.nlev.gtr.1 = "ignore")
number <- function(x) sprintf("%.17g", x)
components <- NULL

make <- function(seed, materials = 2, conditions = 2, settings = c(200, 210, 220, 230), prints = 3, n = 7, sp = .03, ss = .015, se = .06, vary = NULL, own = FALSE) {
  set.seed(seed); d <- NULL
  for (m in seq_len(materials)) for (c in seq_len(conditions)) {
    k <- if (is.function(prints)) prints(m, c) else prints
    for (p in seq_len(k)) { u <- rnorm(1, 0, sp)
      for (s in seq_along(settings)) { v <- rnorm(1, 0, ss); count <- if (is.null(vary)) n else sample(vary, 1)
        if (count > 0) d <- rbind(d, data.frame(material = paste0("M", m), condition = paste0("C", c), setting = settings[s],
          print = if (own) paste0("m", m, "c", c, "s", s, "p", p) else paste0("m", m, "c", c, "p", p),
          strength_MPa = exp(log(20 + 8 * m + 3 * c - s * m / 2) + u + v + rnorm(count, 0, se)))) } } }
  d$strength_MPa <- signif(d$strength_MPa, 10); d
}

save <- function(name, d, stretch = TRUE, against.emmeans = FALSE) {
  d$g <- factor(paste(d$material, d$condition, d$setting, sep = "|"), levels = unique(paste(d$material, d$condition, d$setting, sep = "|")))
  d$ps <- factor(paste(d$print, d$setting)); d$print <- factor(d$print); d$y <- log(d$strength_MPa)
  m <- if (stretch) lmer(y ~ 0 + g + (1 | print) + (1 | ps), d, control = tight) else lmer(y ~ 0 + g + (1 | print), d, control = tight)
  # A second start: the optimiser must not be held at a bound by chance.
  m2 <- update(m, start = rep(.2, length(getME(m, "theta")))); if (REMLcrit(m2) < REMLcrit(m) - 1e-10) m <- m2
  v <- as.data.frame(VarCorr(m)); pick <- function(x) { r <- v$vcov[v$grp == x]; if (length(r)) r else 0 }
  components <<- rbind(components, data.frame(table = name, print = number(pick("print")), stretch = number(pick("ps")), specimen = number(pick("Residual"))))
  V0 <- vcov(m); VA <- vcovAdj(m); b <- fixef(m); keys <- do.call(rbind, strsplit(levels(d$g), "|", fixed = TRUE)); answers <- NULL
  add <- function(question, w, key) { L <- as.numeric(w); e <- sum(L * b); s <- sqrt(as.numeric(t(L) %*% VA %*% L)); df <- Lb_ddf(L, V0, VA); q <- qt(.975, df)
    answers <<- rbind(answers, data.frame(question, t(key), number(e), number(s), number(df), number(e - q * s), number(e + q * s))) }
  at <- function(m, c, s) which(keys[, 1] == m & keys[, 2] == c & keys[, 3] == s)
  unit <- function(...) { w <- rep(0, length(b)); for (i in c(...)) w[abs(i)] <- w[abs(i)] + sign(i); w }
  M <- unique(keys[, 1]); C <- unique(keys[, 2]); S <- unique(keys[, 3]); S <- if (all(S == "NA")) S else S[order(as.numeric(S))]
  two <- function(x) if (length(x) > 1) t(combn(x, 2)) else matrix("", 0, 2)
  has <- function(m, c) S[sapply(S, function(s) length(at(m, c, s)) == 1)]
  pairs <- rbind(do.call(rbind, lapply(M, function(m) { z <- two(C); if (nrow(z)) data.frame(kind = "condition", a1 = m, a2 = m, b1 = z[, 2], b2 = z[, 1]) })),
                 do.call(rbind, lapply(C, function(c) { z <- two(M); if (nrow(z)) data.frame(kind = "material", a1 = z[, 2], a2 = z[, 1], b1 = c, b2 = c) })))
  for (i in seq_len(NROW(pairs))) with(pairs[i, ], {
    both <- intersect(has(a1, b1), has(a2, b2)); if (!length(both)) return(NULL)
    ratio <- lapply(both, function(s) unit(at(a1, b1, s), -at(a2, b2, s)))
    name <- function(s, s2 = "") c(a1, b1, s, if (kind == "material") a2 else "", if (kind == "condition") b2 else "", s2)
    for (j in seq_along(both)) add(kind, ratio[[j]], name(both[j]))
    if (length(both) > 1) {
      add(paste(kind, "average"), Reduce(`+`, ratio) / length(ratio), name(""))
      if (kind == "condition") { x <- as.numeric(both); w <- (x - mean(x)) / sum((x - mean(x))^2) * (max(x) - min(x))
        add("condition trend slope", Reduce(`+`, Map(`*`, ratio, w)), name(both[length(both)], both[1]))
        add("condition trend ends", ratio[[length(ratio)]] - ratio[[1]], name(both[length(both)], both[1])) }
      if (both[1] == S[1]) for (j in seq_along(both)[-1]) add("drop-off difference", ratio[[j]] - ratio[[1]], name(both[j], both[1])) } })
  for (m1 in M) for (c1 in C) { own <- has(m1, c1); if (length(own) > 1 && own[1] == S[1]) for (s in own[-1]) add("drop-off", unit(at(m1, c1, s), -at(m1, c1, own[1])), c(m1, c1, s, "", "", own[1])) }
  names(answers) <- c("question", "material", "condition", "setting", "againstMaterial", "againstCondition", "againstSetting", "estimate", "standardError", "degreesOfFreedom", "low", "high")
  if (against.emmeans) { # emmeans says the same as the two functions that it calls
    e <- as.data.frame(confint(pairs(emmeans(m, ~g, lmer.df = "kenward-roger"), reverse = TRUE), adjust = "none")); a <- answers[answers$question == "condition", ][1, ]
    one <- paste(a$material, a$condition, a$setting, sep = "|"); other <- paste(a$material, a$againstCondition, a$setting, sep = "|")
    r <- e[e$contrast %in% c(paste0("(", one, ") - (", other, ")"), paste(one, "-", other)), ]
    stopifnot(nrow(r) == 1, abs(r$SE / as.numeric(a$standardError) - 1) < 1e-9, abs(r$df / as.numeric(a$degreesOfFreedom) - 1) < 1e-9, abs(r$lower.CL - as.numeric(a$low)) < 1e-9) }
  z <- d[, c("material", "condition", "setting", "print", "strength_MPa")]; z$setting <- ifelse(is.na(z$setting), "", z$setting); z$strength_MPa <- number(z$strength_MPa)
  # Quoted only where a name asks for it.
  odd <- sum(grepl('[,"]', unlist(z))) > 0
  write.csv(z, file.path(out, paste0(name, ".csv")), row.names = FALSE, quote = odd)
  answers[answers == "NA"] <- ""
  write.csv(answers, file.path(out, paste0(name, ".answers.csv")), row.names = FALSE, quote = odd)
  write.csv(components, file.path(out, "components.csv"), row.names = FALSE, quote = FALSE)
}

for (i in 1:2) save(paste0("balanced-", i), make(i), against.emmeans = TRUE)
for (i in 1:2) save(paste0("two-prints-", i), make(10 + i, materials = 3, prints = 2, n = 10))
for (i in 1:3) save(paste0("unbalanced-", i), make(20 + i, prints = function(m, c) 1 + (m + c) %% 3 + 1, vary = 2:9))
for (i in 1:3) save(paste0("missing-stretches-", i), make(30 + i, prints = 3, vary = c(0, 0, 3:7)))
for (i in 1:3) save(paste0("one-here-three-there-", i), make(40 + i, prints = function(m, c) if (m == 1 && c == 1) 1 else 3, n = 6))
for (i in 1:4) save(paste0("no-print-scatter-", i), make(50 + i, sp = 0, prints = 3, n = 5))
for (i in 1:4) save(paste0("no-stretch-scatter-", i), make(60 + i, ss = 0, n = 6))
for (i in 1:3) save(paste0("no-scatter-but-specimens-", i), make(70 + i, sp = 0, ss = 0, prints = 2, n = 4))
for (i in 1:2) save(paste0("one-setting-", i), make(80 + i, settings = 210, prints = function(m, c) 1 + m + c), stretch = FALSE)
{ d <- make(85, settings = 210, prints = 4, vary = 2:6); d$setting <- NA; save("no-setting", d, stretch = FALSE) }
for (i in 1:2) save(paste0("one-specimen-", i), make(90 + i, prints = 4, n = 1), stretch = FALSE)
for (i in 1:2) save(paste0("great-scatter-", i), make(100 + i, se = .4, sp = .3, ss = .2, prints = 3, vary = 2:6))
for (i in 1:2) save(paste0("small-scatter-", i), make(110 + i, se = .005, sp = .003, ss = .002, prints = 3))
save("pairs-of-specimens", make(120, prints = 2, n = 2))
for (i in 1:2) save(paste0("own-prints-", i), make(130 + i, prints = 3, vary = 3:6, own = TRUE), stretch = FALSE)
{ d <- make(140, prints = 4, vary = 3:6); s <- as.numeric(sub(".*p", "", d$print)); save("half-shared", d[(s <= 2 & d$setting <= 220) | (s > 2 & d$setting >= 210), ]) }
{ d <- make(141, prints = 3, vary = 2:6); d <- d[!(d$material == "M2" & d$condition == "C2" & d$setting == 200), ]; save("reference-missing", d) }
save("two-hundred-stretches", make(150, materials = 5, prints = 5, n = 10), stretch = TRUE)
