# Average run lengths and limits of control charts by the R package spc (S. Knoth), to hold ours against.
# Call: Rscript --vanilla run-lengths.R. Prints its versions, then lines: name, arguments, value.
suppressMessages(library(spc))
cat("#", R.version.string, "spc", as.character(packageVersion("spc")), "\n")
put <- function(name, ..., value) cat(name, ..., format(value, digits = 10), "\n")
shifts <- c(0, .25, .5, .75, 1, 1.5, 2, 2.5, 3, 4)

for (h in c(4, 4.77, 5)) for (shift in shifts) {
  put("cusum-one-sided", .5, h, shift, value = xcusum.arl(.5, h, shift, sided = "one", r = 60))
  put("cusum-two-sided", .5, h, shift, value = xcusum.arl(.5, h, shift, sided = "two", r = 60))
}
for (design in list(c(.5, 365), c(.5, 1825), c(.5, 3650), c(.5, 18250), c(.25, 1825), c(.25, 18250), c(1, 1825), c(1, 18250),
                    c(.5, 4e6)))
  put("cusum-limit", design[1], design[2], 0, value = xcusum.crit(design[1], design[2], r = 100))

for (design in list(c(.4, 3.054), c(.25, 2.998), c(.2, 2.962), c(.1, 2.814), c(.05, 2.615))) for (shift in shifts)
  put("ewma", design[1], design[2], shift,
      value = xewma.arl(design[1], design[2], shift, sided = "two", limits = "fix", r = 100))
for (weight in c(.01, .03, .1)) for (length in c(500, 18250))
  put("ewma-limit", weight, length, 0, value = xewma.crit(weight, length, sided = "two", limits = "fix", r = 150))
