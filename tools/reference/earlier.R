# Reference values for tests/RigDaq.Core.Tests/Statistics/Earlier, by R 4.2 with lme4 and pbkrtest (Debian 12: r-base-core, r-cran-lme4, r-cran-pbkrtest).
# Invented strengths: only the arithmetic is compared. Run: Rscript tools/reference/earlier.R tests/RigDaq.Core.Tests/Statistics/Earlier/tables
# earlier-1.csv and earlier-2.csv have several prints, now.csv one of each. scatter.csv: components of one fit to both earlier studies, their variances by the
# expected information (Searle, Casella and McCulloch 1992, 6.6). answers.csv: this study's contrasts with that scatter, and this study against earlier-1.
suppressMessages({library(lme4); library(pbkrtest)})
out <- commandArgs(TRUE)[1]; dir.create(out, showWarnings = FALSE, recursive = TRUE)
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e5), calc.derivs = FALSE, check.conv.singular = "ignore")
number <- function(x) sprintf("%.17g", x)
set.seed(20261130)
make <- function(materials, conditions, settings, prints, counts, shift = 0) { d <- NULL
  for (m in materials) for (c in conditions) for (p in seq_len(prints)) { u <- rnorm(1, 0, .03)
    for (s in settings) d <- rbind(d, data.frame(material = m, condition = c, setting = s, print = paste0(substr(m, 1, 1), substr(c, 5, 6), p),
      strength_MPa = signif(exp(log(if (m == "Alder") 34 else if (m == "Birch") 41 else 50) - .004 * (s - 200) + shift + u + rnorm(1, 0, .015) + rnorm(sample(counts, 1), 0, .05)), 8))) }
  d }
one <- make(c("Alder", "Birch", "Kept"), c("fan off", "fan on"), c(200, 220, 240), 3, 4:7)
one <- one[one$material != "Kept" | (one$condition == "fan off" & one$setting == 220), ]
two <- make("Birch", c("fan off", "fan on"), c(200, 230), 4, 3:5)
now <- make(c("Alder", "Birch", "Kept"), c("fan off", "fan on"), c(200, 220, 240), 1, 6:9, shift = .02)
now <- now[now$material != "Kept" | (now$condition == "fan off" & now$setting == 220), ]
for (n in c("one", "two", "now")) write.csv({z <- get(n); z$strength_MPa <- number(z$strength_MPa); z}, file.path(out, paste0(switch(n, one = "earlier-1", two = "earlier-2", n), ".csv")), row.names = FALSE, quote = FALSE)

prepare <- function(d) { d$g <- factor(paste(d$study, d$material, d$condition, d$setting, sep = "|")); d$p <- factor(paste(d$study, d$material, d$condition, d$print)); d$ps <- factor(paste(d$p, d$setting)); d$y <- log(d$strength_MPa); d }
d <- prepare(rbind(cbind(one, study = 1), cbind(two, study = 2)))
m <- lmer(y ~ 0 + g + (1 | p) + (1 | ps), d, control = tight)
v <- as.data.frame(VarCorr(m)); vp <- v$vcov[v$grp == "p"]; vs <- v$vcov[v$grp == "ps"]; ve <- v$vcov[v$grp == "Residual"]
X <- model.matrix(~ 0 + g, d); G <- list(tcrossprod(model.matrix(~ 0 + p, d)), tcrossprod(model.matrix(~ 0 + ps, d)), diag(nrow(d)))
V <- vp * G[[1]] + vs * G[[2]] + ve * G[[3]]; Vi <- solve(V); P <- Vi - Vi %*% X %*% solve(t(X) %*% Vi %*% X) %*% t(X) %*% Vi
I <- matrix(0, 3, 3); for (i in 1:3) for (j in 1:3) I[i, j] <- sum((P %*% G[[i]]) * t(P %*% G[[j]])) / 2
W <- solve(I)
write.csv(data.frame(component = c("print", "stretch"), variance = number(c(vp, vs)), varianceOfVariance = number(c(W[1, 1], W[2, 2]))), file.path(out, "scatter.csv"), row.names = FALSE, quote = FALSE)

# Now, by the groups' own scatter and the known components; Satterthwaite's degrees of freedom (Biometrics Bulletin 2, 1946).
of <- function(m, c, s) log(now$strength_MPa[now$material == m & now$condition == c & now$setting == s])
answers <- NULL
add <- function(question, key, e, v, df) { h <- qt(.975, df) * sqrt(v); answers <<- rbind(answers, data.frame(question, t(key), number(e), number(sqrt(v)), number(df), number(e - h), number(e + h))) }
plain <- function(w, groups) { x <- lapply(groups, function(k) of(k[1], k[2], as.numeric(k[3]))); list(e = sum(w * sapply(x, mean)), v = w^2 * sapply(x, var) / sapply(x, length), f = sapply(x, length) - 1) }
known <- function(a, kp, ks) { v <- sum(a$v) + kp * vp + ks * vs; c(v, v^2 / (sum(a$v^2 / a$f) + kp^2 * W[1, 1] / 2 + ks^2 * W[2, 2] / 2)) }
for (s in c(200, 220, 240)) { a <- plain(c(1, -1), list(c("Alder", "fan on", s), c("Alder", "fan off", s))); k <- known(a, 2, 2); add("condition", c("Alder", "fan on", s, "", "fan off", ""), a$e, k[1], k[2]) }
{ a <- plain(c(1, -1), list(c("Birch", "fan off", 240), c("Birch", "fan off", 200))); k <- known(a, 0, 2); add("drop-off", c("Birch", "fan off", 240, "", "", 200), a$e, k[1], k[2]) }

# Against earlier-1, which has its own model: two independent means; calibrations of 0.4 and 0.3 per cent, not shared. With the control taken off they cancel.
b <- prepare(cbind(one, study = 1)); mb <- lmer(y ~ 0 + g + (1 | p) + (1 | ps), b, control = tight); V0 <- vcov(mb); VA <- vcovAdj(mb); fb <- fixef(mb)
before <- function(w, groups) { L <- rep(0, length(fb)); for (i in seq_along(groups)) { at <- paste0("g1|", paste(groups[[i]], collapse = "|")); stopifnot(at %in% names(fb)); L[names(fb) == at] <- w[i] }
  c(sum(L * fb), as.numeric(t(L) %*% VA %*% L), Lb_ddf(L, V0, VA)) }
against <- function(question, key, w, groups, kp, ks, calibration) { a <- plain(w, groups); k <- known(a, kp, ks); o <- before(w, groups); v <- k[1] + o[2] + calibration
  add(question, key, a$e - o[1], v, v^2 / (k[1]^2 / k[2] + o[2]^2 / o[3])) }
off <- .004^2 + .003^2; control <- c("Kept", "fan off", "220")
against("plain", c("Alder", "fan on", 220, "", "", ""), 1, list(c("Alder", "fan on", "220")), 1, 1, off)
against("plain", c("Kept", "fan off", 220, "", "", ""), 1, list(control), 1, 1, off)
against("average", c("Birch", "fan on", "", "", "", ""), rep(1, 3) / 3, lapply(c("200", "220", "240"), function(s) c("Birch", "fan on", s)), 1, 1 / 3, off)
against("corrected", c("Alder", "fan on", 220, "", "", ""), c(1, -1), list(c("Alder", "fan on", "220"), control), 2, 2, 0)
against("corrected average", c("Birch", "fan on", "", "", "", ""), c(rep(1, 3) / 3, -1), c(lapply(c("200", "220", "240"), function(s) c("Birch", "fan on", s)), list(control)), 2, 4 / 3, 0)
names(answers) <- c("question", "material", "condition", "setting", "againstMaterial", "againstCondition", "againstSetting", "estimate", "standardError", "degreesOfFreedom", "low", "high")
write.csv(answers, file.path(out, "answers.csv"), row.names = FALSE, quote = FALSE)
