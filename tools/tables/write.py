"""What Python writes; see README.md."""
import csv
import datetime
import os
import sys

import openpyxl

folder = sys.argv[1]


def read(name):
    with open(os.path.join(folder, name), newline="") as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    return [tuple(float(cell) for cell in row) for row in rows[1:]]


def at(name):
    return os.path.join(folder, name)


tension, puncture = read("source-tension.csv"), read("source-puncture.csv")

with open(at("py-utf16.txt"), "w", encoding="utf-16", newline="") as file:
    out = csv.writer(file, dialect="excel-tab")
    out.writerow(["Tiempo (s)", "Fuerza (kgf)", "Desplazamiento (mm)"])
    out.writerows((t, repr(f / 9.80665), x) for t, f, x in puncture)


def comma(value, digits):
    return f"{value:,.{digits}f}".replace(",", "\u202f").replace(".", ",")


def clock(seconds):
    when = datetime.datetime(2024, 5, 3, 23, 59, 50) + datetime.timedelta(seconds=seconds)
    return when.strftime("%H:%M:%S,%f")[:-3]


with open(at("py-clock.csv"), "w", encoding="utf-8-sig", newline="") as file:
    out = csv.writer(file, delimiter=";")
    out.writerow(["Heure", "Effort", "D\u00e9placement traverse", "Temp\u00e9rature"])
    out.writerow(["hh:mm:ss", "N", "mm", "\u00b0C"])
    out.writerows((clock(t), comma(f, 4), comma(x, 5), "23,1") for t, f, x in puncture)

with open(at("py-side-by-side.csv"), "w", newline="") as file:
    out = csv.writer(file)
    out.writerow(["Specimen 1", "", "", "Specimen 2", "", ""])
    out.writerow(["Extension (mm)", "Time (s)", "Load (N)"] * 2)
    for i in range(max(len(tension), len(puncture))):
        left = [tension[i][2], tension[i][0], tension[i][1]] if i < len(tension) else ["", "", ""]
        right = [puncture[i][2], puncture[i][0], puncture[i][1]] if i < len(puncture) else ["", "", ""]
        out.writerow(left + right)
    out.writerow([])
    out.writerow(["Maximum", "", max(f for _, f, _ in tension), "", "", max(f for _, f, _ in puncture)])

with open(at("py-gbk.csv"), "w", encoding="gbk", newline="") as file:
    out = csv.writer(file)
    out.writerow(["\u65f6\u95f4(s)", "\u8bd5\u9a8c\u529b(N)", "\u4f4d\u79fb(mm)", "\u5e94\u529b(MPa)"])
    out.writerows((t, f, x, round(f / 100, 5)) for t, f, x in puncture)

with open(at("py-sections.csv"), "w", newline="") as file:
    out = csv.writer(file, quoting=csv.QUOTE_ALL)
    for name, rows in (("Strip 1", tension), ("Strip 2", puncture)):
        out.writerow([name])
        out.writerow(["Time", "Extension", "Load"])
        out.writerow(["(min)", "(in)", "(lbf)"])
        out.writerows((repr(t / 60), repr(x / 25.4), repr(f / 4.4482216152605)) for t, f, x in rows)
        out.writerow([])

with open(at("py-blanks.txt"), "w") as file:
    for t, f, x in puncture:
        print(f"{t:10.3f}   {x:10.5f} {f:12.5f}", file=file)

with open(at("py-position.csv"), "w", newline="") as file:
    out = csv.writer(file, delimiter=";")
    out.writerow(["Crosshead travel [mm]", "Force [kN]"])
    out.writerows((repr(-x).replace(".", ","), repr(-f / 1000).replace(".", ",")) for _, f, x in puncture)

with open(at("py-grams.csv"), "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["# balance on a test stand"])
    out.writerow(["ELAPSED TIME (SEC)", "WEIGHT (g)", "TRAVEL (in)"])
    out.writerows((t, repr(f * 1000 / 9.80665), repr(x / 25.4)) for t, f, x in puncture)

book = openpyxl.Workbook()
for number, (name, rows) in enumerate((("First strip", tension), ("Second strip", puncture))):
    sheet = book.active if number == 0 else book.create_sheet()
    sheet.title = name
    sheet.append(["Geotextile", name])
    sheet.append(["Width", 50.2, "mm"])
    sheet.append([])
    sheet.append(["TIME", "FORCE", "STROKE"])
    sheet.append(["s", "N", "mm"])
    for row in rows:
        sheet.append(row)
book.save(at("xl-sheets.xlsx"))

book = openpyxl.Workbook()
sheet = book.active
sheet.append(["Tempo", "Carga (N)", None, "Tempo", "Carga (N)"])
for i in range(max(len(tension), len(puncture))):
    row = []
    for rows in (tension, puncture):
        if i < len(rows):
            when = datetime.datetime(2024, 5, 3, 10, 0, 0) + datetime.timedelta(seconds=rows[i][0])
            row += [when.time() if rows is tension else when, rows[i][1], None]
        else:
            row += [None, None, None]
    sheet.append(row[:5])
book.save(at("xl-clock.xlsx"))
