# Mann-Kendall, Sen's slope and least squares by base R, to hold ours against.
# Call: Rscript --vanilla trends.R. Prints its version, then lines: name, value.
cat("#", R.version.string, "\n")
put <- function(name, value) cat(name, format(value, digits = 12), "\n")

# Kendall's rank correlation with time: the same s, with the variance for ties and the correction for continuity.
series <- function(name, y) {
  test <- suppressWarnings(cor.test(seq_along(y), y, method = "kendall", exact = FALSE, continuity = TRUE))
  put(paste0(name, "-z"), unname(test$statistic))
  put(paste0(name, "-p"), test$p.value)
  pairs <- combn(length(y), 2)
  put(paste0(name, "-slope"), median((y[pairs[2, ]] - y[pairs[1, ]]) / (pairs[2, ] - pairs[1, ])))
  cat(paste0(name, "-data"), y, "\n")
}
series("epa", c(10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15))
series("nile", as.numeric(Nile))
series("nhtemp", as.numeric(nhtemp))
series("lake-huron", as.numeric(LakeHuron))
