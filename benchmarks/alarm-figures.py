#!/usr/bin/env python3
"""Figures of alarm management (EEMUA 191, ISA-18.2 / IEC 62682) of what replay found in a recorded or simulated fleet.

Usage: benchmarks/alarm-figures.py --register machines.csv [--register …] RESULTS [RESULTS …]

RESULTS are directories that replay wrote, each with the register of its fleet in the same order. Several are taken as one
fleet of one operator whose records begin at the same hour: each counts from its own first cycle.

Counted is every alert that detection raises (alerts.csv), but for planned care, which is no alarm. So these are more than
an operator is told of: nothing here is joined to cases, paused, held back by a rule or acknowledged. Published figures are
those of the two publications from memory; they are for one operator of a plant that is watched all day.
"""
import argparse
import collections
import csv
import datetime
import os
import re
import sys

CARE = {"cleaning-due", "air-filter-due", "water-filter-due", "lamp-due", "restart-after-idle"}
WINDOW = 600
DAY = 86_400
PRIORITIES = ("urgent", "high", "medium", "low")


def seconds(text):
    return datetime.datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()


def span(results):
    """First and last time of the cycles."""
    first, last = float("inf"), float("-inf")
    with open(os.path.join(results, "cycles.csv"), newline="") as rows:
        reader = csv.DictReader(rows)
        begins = next(name for name in reader.fieldnames if name.endswith("start"))
        for row in reader:
            first, last = min(first, seconds(row[begins])), max(last, seconds(row[begins]))
    return first, last


def alerts(results, start, number):
    """Who, what, priority, when raised and when over, in seconds since the record's begin."""
    with open(os.path.join(results, "alerts.csv"), newline="") as rows:
        for row in csv.DictReader(rows):
            if row["condition"] not in CARE:
                over = seconds(row["cleared_at"]) - start if row["cleared_at"] else float("inf")
                gateway = re.search(r"of gateway (\S+?)[ .]", row["summary"])
                subject = row["machine"] or (gateway.group(1) if gateway else "site")
                yield (f"{number}/{subject}", row["condition"], row["priority"], seconds(row["raised_at"]) - start, over)


def flood_share(counts, windows):
    """Of the time: a flood begins with more than 10 in ten minutes and ends with fewer than 5."""
    flooded, is_flood = 0, False
    for window in range(windows):
        count = counts.get(window, 0)
        is_flood = count > 10 or (is_flood and count >= 5)
        flooded += is_flood
    return flooded / windows


def chattering(raised):
    """Raises that are the third or a later one of the same alarm within a minute."""
    of = collections.defaultdict(list)
    for subject, condition, _, at, _ in raised:
        of[subject, condition].append(at)
    return sum(1 for times in of.values() for i in range(2, len(times)) if sorted(times)[i] - sorted(times)[i - 2] <= 60)


def standing(raised, at, older):
    return sum(1 for alert in raised if alert[3] + older <= at < alert[4])


def row(what, value, published):
    print(f"| {what} | {value} | {published} |")


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--register", action="append", required=True)
    arguments.add_argument("--from", dest="begin", help="where the record begins and ends, where there is no cycles.csv")
    arguments.add_argument("--to", dest="end")
    arguments.add_argument("results", nargs="+")
    options = arguments.parse_args()
    if len(options.register) != len(options.results):
        sys.exit("one --register for each directory of results")
    machines, raised, length = 0, [], float("inf")
    for number, (register, results) in enumerate(zip(options.register, options.results)):
        with open(register) as lines:
            machines += sum(1 for _ in lines) - 1
        first, last = (seconds(options.begin), seconds(options.end)) if options.begin else span(results)
        raised += alerts(results, first, number)
        length = min(length, last - first)
    raised = sorted((alert for alert in raised if 0 <= alert[3] < length), key=lambda alert: alert[3])
    windows, days = int(length // WINDOW), int(length // DAY)
    counts = collections.Counter(int(alert[3] // WINDOW) for alert in raised)
    per_day = collections.Counter(int(alert[3] // DAY) for alert in raised)
    ten = sum(count for _, count in collections.Counter(alert[:2] for alert in raised).most_common(10))
    noons = [day * DAY + DAY / 2 for day in range(days)]
    stale = [standing(raised, noon, DAY) for noon in noons]
    present = [standing(raised, noon, 0) for noon in noons]
    split = collections.Counter(alert[2] for alert in raised)
    print(f"{machines} machines, {days} days, {len(raised)} alerts, {len(raised) / machines / days * 365:.1f} a machine-year\n")
    print("| of one operator | here | published |\n|---|---|---|")
    row("alarms in 10 minutes, average", f"{len(raised) / windows:.3f}", "below 1 (EEMUA 191); 1 to 2 at most (ISA-18.2)")
    row("alarms a day, average", f"{len(raised) / days:.1f}", "150 acceptable, 300 at most (ISA-18.2)")
    row("alarms on the worst day", max(per_day.values()), "")
    row("most in 10 minutes", max(counts.values()), "10 (both)")
    row("share of time in flood", f"{flood_share(counts, windows):.2%}", "below 1 % (ISA-18.2)")
    row("share of the ten most frequent", f"{ten / len(raised):.1%}", "1 to 5 % (ISA-18.2)")
    row("chattering, 3 in a minute", chattering(raised), "0 (ISA-18.2)")
    row("fleeting, over within a minute", sum(1 for a in raised if a[4] - a[3] < 60), "0 (ISA-18.2)")
    row("standing at noon, average", f"{sum(present) / days:.1f}", "below 10 (EEMUA 191)")
    row("stale, older than a day, average", f"{sum(stale) / days:.1f}", "below 5 (ISA-18.2)")
    row("low / medium / high and urgent",
        " / ".join(f"{share:.0%}" for share in (
            split["low"] / len(raised), split["medium"] / len(raised), (split["high"] + split["urgent"]) / len(raised))),
        "80 / 15 / 5 % (both)")
    row("urgent", f"{split['urgent'] / len(raised):.1%}", "below 1 %")


if __name__ == "__main__":
    main()
