# The peer of src/bin/glmer.rs: fits the table FILE with lme4's glmer under LINK, and prints the
# estimates and the processor's seconds of the quickest of several fits. Debian package r-cran-lme4.
arguments <- commandArgs(trailingOnly = TRUE)
suppressMessages(library(lme4))
families <- read.csv(arguments[1])
families$seed <- factor(families$seed)
families$pollen <- factor(families$pollen)
fit <- function() {
  glmer(cbind(kept, judged - kept) ~ 1 + (1 | seed) + (1 | pollen), families,
        family = binomial(arguments[2]))
}
fitted <- fit()
on_the_processor <- function(i) sum(system.time(fit())[c("user.self", "sys.self")])
seconds <- min(sapply(1:7, on_the_processor))
spreads <- as.data.frame(VarCorr(fitted))
variance <- function(term) spreads$vcov[spreads$grp == term]
figures <- c(seconds, variance("seed"), variance("pollen"), fixef(fitted)[["(Intercept)"]],
             as.numeric(logLik(fitted)))
cat(format(figures, digits = 12), "\n")
