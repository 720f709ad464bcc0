# Reference values for tests/RigDaq.Core.Tests/Statistics, by R 4.2 with its survival package (Debian 12: r-base-core, r-cran-survival).
# Run: Rscript tools/reference/statistics.R > tools/reference/statistics-r.txt
options(digits = 15, width = 200)
suppressMessages(library(survival))
say <- function(name, ...) cat(name, ":", sprintf("%.15g", c(...)), "\n")

# Student's t, far tails and few degrees of freedom
for (x in list(c(0.5, 1), c(12, 3), c(40, 5), c(2, 17.776), c(8, 200), c(300, 1.5)))
  say(paste("pt upper", x[1], x[2]), pt(x[1], x[2], lower.tail = FALSE))
for (x in list(c(0.025, 1), c(0.025, 17.776), c(1e-6, 3), c(1e-10, 1), c(0.05 / 40, 18), c(0.4, 2.5), c(0.025, 1e5)))
  say(paste("qt upper", x[1], x[2]), qt(x[1], x[2], lower.tail = FALSE))

# Noncentral t and power (R's own pt is good to some 1e-12 here)
for (x in list(c(2, 10, 1), c(2.1, 38, 3), c(12.7, 1, 20), c(3, 4.5, -1), c(1.96, 1000, 2.8), c(0, 7, 0.5)))
  say(paste("pt noncentral upper", x[1], x[2], x[3]), pt(x[1], x[2], x[3], lower.tail = FALSE))
# Beyond a noncentrality of 37 R's pt turns to a normal approximation: the defining integral instead
for (x in list(c(63.66, 1, 90), c(636.6, 1, 500), c(9.9, 2, 14), c(4.3, 2, 1), c(2.3, 8.7, 2.9), c(5, 3, -1)))
  say(paste("noncentral upper by integration", x[1], x[2], x[3]), integrate(function(z) dnorm(z) * pchisq(x[2] * ((z + x[3]) / x[1])^2, x[2]),
    -x[3], 40 - x[3] * (x[3] < 0), rel.tol = 1e-13, subdivisions = 5000)$value)
say("power.t.test n=20 sd=1 power=.8 delta", power.t.test(n = 20, sd = 1, power = 0.8, strict = TRUE, tol = 1e-12)$delta)
say("power.t.test n=3 sd=1 power=.8 delta", power.t.test(n = 3, sd = 1, power = 0.8, strict = TRUE, tol = 1e-12)$delta)
say("power.t.test delta=1 sd=1 power=.8 n", power.t.test(delta = 1, sd = 1, power = 0.8, strict = TRUE, tol = 1e-12)$n)
say("power.t.test delta=.3 sd=1 power=.9 alpha=.01 n", power.t.test(delta = 0.3, sd = 1, power = 0.9, sig.level = 0.01, strict = TRUE, tol = 1e-12)$n)

# Welch, Fieller (roots of the defining equation, not the closed form) and equivalence against an estimated margin
satterthwaite <- function(vb, nb, va, na, theta) (vb + theta^2 * va)^2 / (vb^2 / (nb - 1) + theta^4 * va^2 / (na - 1))
pair <- function(name, b, a, margin = 0.05, level = 0.95) {
  s <- t.test(b, a, conf.level = level)
  say(paste(name, "difference low high"), mean(b) - mean(a), s$conf.int)
  say(paste(name, "t df p"), s$statistic, s$parameter, s$p.value)
  vb <- var(b) / length(b); va <- var(a) / length(a)
  r <- mean(b) / mean(a); df <- satterthwaite(vb, length(b), va, length(a), r)
  q <- qt((1 - level) / 2, df, lower.tail = FALSE)
  f <- function(th) (mean(b) - th * mean(a))^2 - q^2 * (vb + th^2 * va)
  if (q^2 * va / mean(a)^2 < 1)
    say(paste(name, "percent low high"), 100 * (r - 1),
        100 * (uniroot(f, c(r - 20, r), tol = 1e-15, extendInt = "no")$root - 1), 100 * (uniroot(f, c(r, r + 20), tol = 1e-15)$root - 1))
  lo <- 1 - margin; hi <- 1 + margin
  tl <- (mean(b) - lo * mean(a)) / sqrt(vb + lo^2 * va); th <- (mean(b) - hi * mean(a)) / sqrt(vb + hi^2 * va)
  say(paste(name, "equivalence p"), max(pt(tl, satterthwaite(vb, length(b), va, length(a), lo), lower.tail = FALSE),
                                         pt(th, satterthwaite(vb, length(b), va, length(a), hi))))
  ncp <- uniroot(function(d) { c0 <- qt((1 - level) / 2, s$parameter, lower.tail = FALSE)
    pt(c0, s$parameter, d, lower.tail = FALSE) + pt(-c0, s$parameter, d) - 0.8 }, c(0.5, 30), tol = 1e-13)$root
  say(paste(name, "resolvable"), ncp * sqrt(vb + va))
  s$p.value
}
g <- split(PlantGrowth$weight, PlantGrowth$group)
p <- c(pair("trt1-ctrl", g$trt1, g$ctrl), pair("trt2-ctrl", g$trt2, g$ctrl), pair("trt2-trt1", g$trt2, g$trt1))
say("PlantGrowth holm", p.adjust(p, "holm"))
for (n in names(g)) say(paste("group", n, "mean sd low high"), mean(g[[n]]), sd(g[[n]]), t.test(g[[n]])$conf.int)
e <- split(sleep$extra, sleep$group)
invisible(pair("sleep 2-1", e[[2]], e[[1]]))
say("p.adjust", p.adjust(c(0.01, NA, 0.04, 0.03, 0.005, 0.9), "holm"))
a <- anova(lm(weight ~ group, PlantGrowth)); say("PlantGrowth F p", a$F[1], a$`Pr(>F)`[1])
say("grubbs handbook 1.3.5.17.1 two-sided 5 %", local({ n <- 8; t <- qt(0.05 / (2 * n), n - 2, lower.tail = FALSE); (n - 1) / sqrt(n) * sqrt(t^2 / (n - 2 + t^2)) }))
say("grubbs handbook 1.3.5.17.1 one-sided 5 %", local({ n <- 8; t <- qt(0.05 / n, n - 2, lower.tail = FALSE); (n - 1) / sqrt(n) * sqrt(t^2 / (n - 2 + t^2)) }))

# Several prints: invented strengths (three prints a group, four specimens a print); the figures come from aov with nesting and from
# lm on print means
y <- c(38.1, 37.4, 39.0, 38.3, 40.2, 39.6, 41.1, 40.4, 37.0, 38.2, 36.6, 37.5,
       42.0, 43.1, 42.4, 41.6, 44.3, 43.9, 45.0, 44.1, 41.2, 42.6, 41.9, 42.2)
group <- factor(rep(c("off", "on"), each = 12), levels = c("off", "on")); print <- factor(rep(1:6, each = 4))
nested <- summary(aov(y ~ group + Error(print)))
fit <- nested[[1]][[1]]; say("nested aov F p", fit$`F value`[1], fit$`Pr(>F)`[1]); say("nested aov within ms", nested[[2]][[1]]$`Mean Sq`[1])
m <- tapply(y, print, mean); gm <- factor(rep(c("off", "on"), each = 3))
l <- lm(m ~ gm); say("print means difference low high", coef(l)[2], confint(l)[2, ]); say("print means t p", summary(l)$coefficients[2, 3:4])
say("print means off low high", confint(lm(m ~ gm - 1))[1, ]); say("print means on low high", confint(lm(m ~ gm - 1))[2, ])
# The same with the scatter pooled relative to each group's mean
local({ a <- m[1:3]; b <- m[4:6]; c2 <- (sum((a / mean(a) - 1)^2) + sum((b / mean(b) - 1)^2)) / 4; va <- mean(a)^2 * c2 / 3; vb <- mean(b)^2 * c2 / 3; q <- qt(0.975, 4)
  d <- mean(b) - mean(a); s <- sqrt(va + vb); r <- mean(b) / mean(a); f <- function(th) (mean(b) - th * mean(a))^2 - q^2 * (vb + th^2 * va)
  say("relative pooling difference low high", d, d - q * s, d + q * s); say("relative pooling t p", d / s, 2 * pt(-abs(d / s), 4))
  say("relative pooling percent low high", 100 * (r - 1), 100 * (uniroot(f, c(r - 5, r), tol = 1e-15)$root - 1), 100 * (uniroot(f, c(r, r + 5), tol = 1e-15)$root - 1))
  say("relative pooling off low high", mean(a), mean(a) - q * sqrt(va), mean(a) + q * sqrt(va)); say("relative pooling on low high", mean(b), mean(b) - q * sqrt(vb), mean(b) + q * sqrt(vb)) })
v <- anova(lm(y[1:12] ~ print[1:12])); say("off between component, within", (v$`Mean Sq`[1] - v$`Mean Sq`[2]) / 4, v$`Mean Sq`[2])
local({ s2 <- summary(l)$sigma^2; vv <- s2 / 3; r <- mean(m[4:6]) / mean(m[1:3]); q <- qt(0.975, 4)
  f <- function(th) (mean(m[4:6]) - th * mean(m[1:3]))^2 - q^2 * (vv + th^2 * vv)
  say("print means percent low high", 100 * (r - 1), 100 * (uniroot(f, c(r - 5, r), tol = 1e-15)$root - 1), 100 * (uniroot(f, c(r, r + 5), tol = 1e-15)$root - 1)) })

# A slope (R's data set "cars")
s <- lm(dist ~ speed, cars); say("cars slope low high", coef(s)[2], confint(s)[2, ])

# Weibull by maximum likelihood with profile-likelihood intervals
weibull <- function(name, time, status) {
  fit <- survreg(Surv(time, status) ~ 1, dist = "weibull", control = list(rel.tolerance = 1e-14, maxiter = 200))
  k <- 1 / fit$scale; s <- exp(coef(fit)); top <- fit$loglik[1]
  say(paste(name, "shape scale loglik"), k, s, top)
  profile.shape <- function(k) survreg(Surv(time, status) ~ 1, dist = "weibull", scale = 1 / k, control = list(rel.tolerance = 1e-14))$loglik[1]
  ll <- function(k, s) sum(status * (log(k) - k * log(s) + (k - 1) * log(time)) - (time / s)^k)
  profile.scale <- function(s) optimize(function(k) ll(k, s), c(k / 20, k * 20), maximum = TRUE, tol = 1e-13)$objective
  drop <- qchisq(0.95, 1) / 2
  f <- function(x) profile.shape(x) - top + drop; h <- function(x) profile.scale(x) - top + drop
  say(paste(name, "shape low high"), uniroot(f, c(k / 10, k), tol = 1e-10)$root, uniroot(f, c(k, 4 * k), tol = 1e-10)$root)
  say(paste(name, "scale low high"), uniroot(h, c(s / 4, s), tol = 1e-9)$root, uniroot(h, c(s, s * 6), tol = 1e-9)$root)
}
weibull("handbook 8.4.1.2", c(54, 187, 216, 240, 244, 335, 361, 373, 375, 386, rep(500, 10)), c(rep(1, 10), rep(0, 10)))
weibull("lung", lung$time, lung$status - 1)
weibull("PlantGrowth ctrl", g$ctrl, rep(1, 10))
sessionInfo()$R.version$version.string
