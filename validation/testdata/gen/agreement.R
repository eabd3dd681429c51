# Prints the values of the cases that name R and its package psych.
#
#   apt-get install r-cran-psych   # Debian 12: R 4.2.2, psych 2.2.9
#   R --vanilla --slave -f agreement.R

library(psych)
options(digits = 10)
print(R.version.string)
print(packageVersion("psych"))

# Shrout and Fleiss (1979): six targets, four judges.
judges <- matrix(c(9, 2, 5, 8, 6, 1, 3, 2, 8, 4, 6, 8, 7, 1, 2, 6, 10, 5, 6, 9, 6, 2, 4, 7),
                 ncol = 4, byrow = TRUE)
result <- ICC(judges, lmer = FALSE)
print(result$results, digits = 10)
print(result$stats)

# Weir (2005), data set A: two trials of eight subjects.
x <- c(146, 148, 170, 90, 157, 156, 176, 205)
y <- c(140, 152, 152, 99, 145, 153, 167, 218)
print(ICC(cbind(x, y), lmer = FALSE)$results, digits = 10)

# Bland and Altman (1986), peak flow, first measurement.
large <- c(494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
mini <- c(512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)
d <- large - mini
print(c(mean(d), sd(d)))
print(mean(d) + c(-1, 1) * qnorm(0.975) * sd(d))
print(as.numeric(t.test(large, mini, paired = TRUE)$conf.int))
print(c(sd(y - x) / sqrt(2)))
