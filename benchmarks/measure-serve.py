#!/usr/bin/env python3
"""Times what a user waits for, from outside: the demonstration's 45 days, the memory of its whole process tree, the start
of serve on its data after a clean stop and after a kill, and a message of mosquitto_pub until it is an alert of the API.

Usage: benchmarks/measure-serve.py [--data DIR] [--keep] [--starts N]
Needs Linux (/proc), and mosquitto_pub for the last figure. Takes five to ten minutes. Prints the load average with it.
"""
import argparse
import datetime
import json
import os
import re
import shutil
import signal
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.request

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
RIMECAST = os.path.join(ROOT, "rimecast")
MACHINE, GATEWAY = "harbour-hotel-2", "gw-harbour-hotel"


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


def parents():
    """Parent of every process."""
    found = {}
    for name in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open(f"/proc/{name}/stat") as stat:
                found[int(name)] = int(stat.read().rpartition(")")[2].split()[1])
        except (OSError, ValueError):
            pass
    return found


def tree(root):
    """A process and all below it."""
    of = parents()
    wanted, grown = {root}, True
    while grown:
        more = {p for p, parent in of.items() if parent in wanted} | wanted
        wanted, grown = more, len(more) > len(wanted)
    return wanted


def pss_megabytes(root):
    kilobytes = 0
    for process in tree(root):
        try:
            with open(f"/proc/{process}/smaps_rollup") as rollup:
                kilobytes += int(re.search(r"^Pss:\s+(\d+)", rollup.read(), re.M).group(1))
        except (OSError, AttributeError):
            pass
    return kilobytes / 1024


# of the account that sign_in makes
HEADERS = {"Accept": "application/json"}


def get(url):
    with urllib.request.urlopen(urllib.request.Request(url, headers=HEADERS), timeout=5) as answer:
        return json.load(answer)


def sign_in(port, log_name):
    """Makes the first account by the link that serve printed at its last start; whether it could."""
    with open(log_name) as text:
        links = re.findall(r"/set-up#([\w-]+)", text.read())
    if not links:
        return False
    body = json.dumps({"link": links[-1], "name": "Measure", "password": "eleven snails on a wall"}).encode()
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}/api/v1/set-up", body, {"Content-Type": "application/json"})
    with urllib.request.urlopen(request, timeout=5) as answer:
        HEADERS["Cookie"] = answer.headers["Set-Cookie"].split(";")[0]
    return True


def seconds_until(condition, limit, process=None):
    """Seconds until the condition holds; ends the program if it never does."""
    start = time.monotonic()
    while time.monotonic() - start < limit:
        try:
            if condition():
                return time.monotonic() - start
        except (urllib.error.URLError, OSError, ValueError):
            pass
        if process and process.poll() is not None:
            sys.exit(f"the process ended with {process.returncode}")
        time.sleep(0.02)
    sys.exit(f"gave up after {limit} s")


def is_up(port):
    """Whether every stage says that it works."""
    return all(stage["state"] == "up" for stage in get(f"http://127.0.0.1:{port}/api/v1/status")["stages"])


def start(arguments, log):
    return subprocess.Popen([RIMECAST, *arguments], stdout=log, stderr=subprocess.STDOUT, cwd=ROOT)


def stop(process):
    begun = time.monotonic()
    process.send_signal(signal.SIGINT)
    process.wait(120)
    return time.monotonic() - begun


def kill(process):
    """The Java process alone, as a crash would: its database server is left behind, and the next start must cope."""
    process.kill()
    process.wait()


class Watch(threading.Thread):
    """The most memory that a process tree ever had."""

    def __init__(self, process):
        super().__init__(daemon=True)
        self.process, self.most = process, 0

    def run(self):
        while self.process.poll() is None:
            self.most = max(self.most, pss_megabytes(self.process.pid))
            time.sleep(2)


def load():
    return "load " + " ".join(f"{x:.1f}" for x in os.getloadavg())


def demo(data, log_name):
    with open(log_name, "w") as log:
        process = start(["demo", "--fresh", "--data", data, "--port", str(free_port()), "--mqtt-port", "0"], log)
        watch = Watch(process)
        watch.start()

        def past():
            with open(log_name) as text:
                return re.search(r"The past took (\d+) s", text.read())

        seconds_until(past, 1800, process)
        print(f"demo: 45 days in {past().group(1)} s; {load()}", flush=True)
        time.sleep(10)
        print(f"demo: process tree {watch.most:.0f} MB at most, {pss_megabytes(process.pid):.0f} MB afterwards (PSS)")
        print(f"demo: stopped in {stop(process):.1f} s", flush=True)


def config(data, directory):
    """Settings of a serve on the demonstration's data."""
    files = next(d for d, _, names in os.walk(data) if "machines.csv" in names)
    name = os.path.join(directory, "serve.yaml")
    ports = free_port(), free_port()
    with open(name, "w") as out:
        out.write(
            f"data: {{directory: {data}/server}}\n"
            f"dashboard: {{port: {ports[0]}}}\nmqtt: {{port: {ports[1]}}}\n"
            f"fleet: {{register: {files}/machines.csv, sites: {files}/sites.csv}}\n"
        )
    return name, *ports


def serve(settings, port, log):
    process = start(["serve", "--config", settings], log)
    return process, seconds_until(lambda: is_up(port), 300, process)


def publish(port, pack):
    subprocess.run(
        ["mosquitto_pub", "-p", str(port), "-q", "1", "-t", f"fleet/{GATEWAY}/senml", "-m", json.dumps(pack)], check=True)


def hot(celsius, age_seconds):
    return {"bn": f"{MACHINE}/", "n": "condenser_temperature", "u": "Cel", "v": celsius, "t": -age_seconds}


def message_to_alert(http, mqtt):
    """Two readings over the condensing limit in one message are an alert; seconds until the API has it."""
    begun = datetime.datetime.now(datetime.timezone.utc)

    def alerts():
        return {
            a["id"]
            for a in get(f"http://127.0.0.1:{http}/api/v1/alerts?machine={MACHINE}")
            if a["condition"] == "high-condensing-temperature"
        }

    if alerts():
        sys.exit(f"{MACHINE} has that alert already, before {begun.isoformat()}")
    start_of_message = time.monotonic()
    publish(mqtt, [hot(91, 20), hot(92, 0)])
    seconds_until(alerts, 60)
    return time.monotonic() - start_of_message


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--data", help="an existing demonstration's data (default: a new one is made)")
    arguments.add_argument("--keep", action="store_true", help="leave the data where it is")
    arguments.add_argument("--starts", type=int, default=3, help="starts of each kind (default: 3)")
    options = arguments.parse_args()
    directory = tempfile.mkdtemp(prefix="rimecast-measure-")
    data = os.path.abspath(options.data) if options.data else os.path.join(directory, "demo")
    print(f"{os.cpu_count()} cores; {load()}", flush=True)
    subprocess.run([RIMECAST, "--version"], check=True)
    if not options.data:
        demo(data, os.path.join(directory, "demo.log"))
    settings, http, mqtt = config(data, directory)
    clean, killed = [], []
    with open(os.path.join(directory, "serve.log"), "w") as log:
        process, _ = serve(settings, http, log)
        for _ in range(options.starts):
            stop(process)
            process, seconds = serve(settings, http, log)
            clean.append(seconds)
        print("serve: every stage up after a clean stop in", *[f"{s:.1f}" for s in clean], f"s; {load()}", flush=True)
        for _ in range(options.starts):
            kill(process)
            process, seconds = serve(settings, http, log)
            killed.append(seconds)
        print("serve: every stage up after a kill in", *[f"{s:.1f}" for s in killed], f"s; {load()}", flush=True)
        if shutil.which("mosquitto_pub"):
            seconds_until(lambda: sign_in(http, os.path.join(directory, "serve.log")), 60, process)
            print(f"message: {message_to_alert(http, mqtt):.2f} s from mosquitto_pub to the alert; {load()}")
        else:
            print("message: skipped, mosquitto_pub is not installed")
        print(f"serve: process tree {pss_megabytes(process.pid):.0f} MB (PSS)")
        stop(process)
    if not options.keep:
        shutil.rmtree(directory)


if __name__ == "__main__":
    main()
