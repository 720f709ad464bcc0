# What R writes; see README.md.
folder <- commandArgs(trailingOnly = TRUE)[1]
tension <- read.csv(file.path(folder, "source-tension.csv"), comment.char = "#")
puncture <- read.csv(file.path(folder, "source-puncture.csv"), comment.char = "#")
at <- function(name) file.path(folder, name)

t1 <- data.frame("Time (s)" = puncture$time_s, "Load (kN)" = puncture$force_N / 1000, "Crosshead (mm)" = puncture$position_mm)
write.csv2(t1, at("r-csv2.csv"))

t2 <- data.frame(zeit.ms = round(1000 * puncture$time_s), kraft.N = puncture$force_N, weg.cm = puncture$position_mm / 10)
write.table(t2, at("r-table.txt"), sep = "\t", fileEncoding = "UTF-16LE")

t3 <- rbind(
  data.frame(specimen = "A", time_ms = 1000 * tension$time_s, force_N = tension$force_N),
  data.frame(specimen = "B", time_ms = 1000 * puncture$time_s, force_N = puncture$force_N))
t3$force_N[5] <- NA
write.csv(t3, at("r-long.csv"), row.names = FALSE)

out <- file(at("r-latin1.csv"), "w", encoding = "latin1")
cat("Pr\u00fcfprotokoll;Geotextil\nPr\u00fcfer;\nBreite [mm];50,2\nDicke [mm];3,1\n\n", file = out)
t4 <- data.frame("Pr\u00fcfzeit [s]" = tension$time_s, "Kraft [N]" = tension$force_N, "Traversenweg [\u00b5m]" = 1000 * tension$position_mm, check.names = FALSE)
write.table(t4, out, sep = ";", dec = ",", row.names = FALSE, quote = FALSE)
close(out)
