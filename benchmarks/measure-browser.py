#!/usr/bin/env python3
"""Measures what somebody sees in a browser, on the real server with machines that publish over MQTT.

- a reading, from before it is published until its value stands on the page of its machine, in the picture that follows
- the first page: at its load event, how many rows it has, and when the first of them and all of them were there

Usage: benchmarks/measure-browser.py [--machines N] [--readings N] [--visits N]
Needs Linux (/proc), Debian's chromium and chromium-driver. Browser and server share the machine. Takes about five minutes.
Prints the load average with each figure.
"""
import argparse
import importlib.util
import json
import os
import random
import shutil
import statistics
import subprocess
import tempfile
import time
import urllib.request

HERE = os.path.dirname(os.path.abspath(__file__))
spec = importlib.util.spec_from_file_location("measure_live", os.path.join(HERE, "measure-live.py"))
live = importlib.util.module_from_spec(spec)
spec.loader.exec_module(live)
serve = live.serve

# before anything of a page's own: notes at each picture which of the awaited values stands there, and how many rows
EYES = """
window.stood = {};
window.rows = [];
const look = () => {
  const tiles = document.querySelector('.tiles')?.textContent ?? '';
  for (const found of tiles.matchAll(/(\\d+\\.\\d) °C/g)) window.stood[found[1]] ??= performance.timeOrigin + performance.now();
  const count = document.querySelectorAll('.row, .calm').length;
  if (count !== (window.rows.at(-1)?.count ?? 0)) window.rows.push({count, at: performance.now()});
  requestAnimationFrame(look);
};
requestAnimationFrame(look);
addEventListener('load', () => { window.atLoad = {count: document.querySelectorAll('.row, .calm').length, at: performance.now()}; });
"""


class Chromium:
    """As much of WebDriver (W3C, and the driver's way to the browser's own protocol) as is needed here."""

    def __init__(self, directory):
        self.port = serve.free_port()
        self.driver = subprocess.Popen(
            ["chromedriver", f"--port={self.port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        serve.seconds_until(lambda: self.ask("GET", "/status")["ready"], 30, self.driver)
        arguments = ["--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                     "--lang=en-US", "--window-size=1400,1000", f"--user-data-dir={directory}"]
        wanted = {"alwaysMatch": {"browserName": "chrome", "goog:chromeOptions": {"args": arguments}}}
        self.session = "/session/" + self.ask("POST", "/session", {"capabilities": wanted})["sessionId"]

    def ask(self, method, path, body=None):
        data = json.dumps(body).encode() if body is not None else None
        request = urllib.request.Request(
            f"http://127.0.0.1:{self.port}{path}", data, {"Content-Type": "application/json"}, method=method)
        with urllib.request.urlopen(request, timeout=60) as answer:
            return json.load(answer)["value"]

    def go(self, url):
        self.ask("POST", self.session + "/url", {"url": url})

    def run(self, script):
        return self.ask("POST", self.session + "/execute/sync", {"script": script, "args": []})

    def browser(self, command, **parameters):
        self.ask("POST", self.session + "/goog/cdp/execute", {"cmd": command, "params": parameters})

    def cookie(self, text):
        name, value = text.split("=", 1)
        self.ask("POST", self.session + "/cookie", {"cookie": {"name": name, "value": value, "path": "/"}})

    def close(self):
        self.ask("DELETE", self.session)
        self.driver.terminate()


def readings(browser, base, mqtt_port, count):
    """Each value is another one, to a tenth of a degree, so that it is known when it is there."""
    machine = live.machines_of(0)[0]
    gateway = live.Gateway(mqtt_port, f"gw-{live.name_of(0)}")
    gateway.publish(live.readings(machine, time.time(), 30.0))
    time.sleep(3)
    browser.go(f"{base}/machines/{machine}")
    serve.seconds_until(lambda: browser.run("return window.stood['30.0'] ?? null"), 30)
    seconds, missed = [], 0
    for i in range(1, count + 1):
        value = 30.0 + i / 10
        published = time.time()
        gateway.publish(live.readings(machine, published, round(value, 1)))
        time.sleep(1 + random.random())
        limit, stood = time.monotonic() + 10, None
        while stood is None and time.monotonic() < limit:
            stood = browser.run(f"return window.stood['{value:.1f}'] ?? null")
            time.sleep(0 if stood else 0.1)
        if stood:
            seconds.append(stood / 1000 - published)
        missed += stood is None
    live.say("reading published to seen in a browser", seconds, f", {missed} not seen")


def visits(browser, base, count):
    """First visits, with nothing in the browser's cache."""
    loads, first, all_rows, in_page = [], [], [], []
    for _ in range(count):
        browser.go("about:blank")
        browser.browser("Network.clearBrowserCache")
        browser.go(base + "/")
        time.sleep(2)
        at_load, rows = browser.run("return window.atLoad"), browser.run("return window.rows")
        in_page.append(at_load["count"])
        loads.append(at_load["at"])
        first.append(rows[0]["at"])
        all_rows.append(rows[-1]["at"])
    print(f"first visits, medians of {count}: load event {statistics.median(loads):.0f} ms with {in_page} rows,"
          f" first rows seen {statistics.median(first):.0f} ms ({[round(each) for each in first]}),"
          f" all of them {statistics.median(all_rows):.0f} ms; {serve.load()}", flush=True)


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--machines", type=int, default=100)
    arguments.add_argument("--readings", type=int, default=100, help="that are published and awaited (default: 100)")
    arguments.add_argument("--visits", type=int, default=5, help="first visits (default: 5)")
    options = arguments.parse_args()
    directory = tempfile.mkdtemp(prefix="rimecast-browser-")
    settings, http_port, mqtt_port = live.configure(directory, options.machines // live.MACHINES_OF_A_SITE)
    log_name = os.path.join(directory, "serve.log")
    base = f"http://localhost:{http_port}"
    print(f"{os.cpu_count()} cores; {serve.load()}", flush=True)
    subprocess.run([serve.RIMECAST, "--version"], check=True)
    with open(log_name, "w") as log:
        process = serve.start(["serve", "--config", settings], log)
        try:
            serve.seconds_until(lambda: serve.is_up(http_port), 600, process)
            serve.seconds_until(lambda: serve.sign_in(http_port, log_name), 60, process)
            browser = Chromium(os.path.join(directory, "profile"))
            try:
                browser.go(base + "/livez")
                browser.cookie(serve.HEADERS["Cookie"])
                browser.browser("Page.addScriptToEvaluateOnNewDocument", source=EYES)
                visits(browser, base, options.visits)
                readings(browser, base, mqtt_port, options.readings)
            finally:
                browser.close()
        finally:
            process.terminate()
            process.wait(120)
            with open(log_name) as text:
                print("log:", len([line for line in text if "WARN" in line or "ERROR" in line]), "warnings or errors")
    shutil.rmtree(directory)


if __name__ == "__main__":
    main()
