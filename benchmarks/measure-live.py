#!/usr/bin/env python3
"""Measures what many people wait for at once: the real server with a register of 10,000 machines that publish over MQTT.

- the list of all machines, /api/v1/fleet, packed: where the request waits until it is built; as many screens ask (20
  requests a second); and asked whether it has changed
- the list of open alerts, /api/v1/alerts
- a reading, from before it is published until a live stream says so, while 100 streams are open and all machines publish

Usage: benchmarks/measure-live.py [--machines N] [--viewers N] [--seconds N] [--alerts N]
Needs Linux (/proc) and 2 GB of disk. Takes about ten minutes, most of it the first readings. Prints the load average with
each figure.
"""
import argparse
import http.client
import importlib.util
import json
import os
import resource
import selectors
import shutil
import socket
import struct
import subprocess
import sys
import tempfile
import threading
import time

HERE = os.path.dirname(os.path.abspath(__file__))
spec = importlib.util.spec_from_file_location("measure_serve", os.path.join(HERE, "measure-serve.py"))
serve = importlib.util.module_from_spec(spec)
spec.loader.exec_module(serve)

MACHINES_OF_A_SITE = 5
PROBES_A_SECOND = 10
PROBED_SITES = 20
REGISTER_HEADER = (
    "machine,site,gateway,room,model_group,serial,kind,condenser_cooling,rated_kg_per_day,bin_kg,refrigerant,"
    "freeze_ends_by,harvest_ends_by,fill_ends_by,evaporator_probe_at,condensing_limit_c,pulldown_limit_s,drain_limit_s,"
    "drain_run_on_s,drain_kind,start_delay_s,ambient_min_c,ambient_max_c,water_min_c,water_max_c\n")
REGISTER_ROW = "{0},{1},gw-{1},,cube-50,,batch,air,50,20,R290,level,temperature,level,plate,65,900,6,4,pump,300,10,40,5,35\n"


def name_of(site):
    return f"site-{site:04d}"


def machines_of(site):
    return [f"{name_of(site)}-{i}" for i in range(1, MACHINES_OF_A_SITE + 1)]


def configure(directory, sites):
    """A register of so many sites, and settings that use it."""
    register, settings = os.path.join(directory, "machines.csv"), os.path.join(directory, "serve.yaml")
    with open(register, "w") as out:
        out.write(REGISTER_HEADER)
        for site in range(sites):
            for machine in machines_of(site):
                out.write(REGISTER_ROW.format(machine, name_of(site)))
    http_port, mqtt_port = serve.free_port(), serve.free_port()
    with open(settings, "w") as out:
        out.write(f"data: {{directory: {directory}/data}}\ndashboard: {{port: {http_port}}}\n"
                  f"mqtt: {{port: {mqtt_port}}}\nfleet: {{register: {register}}}\n")
    return settings, http_port, mqtt_port


class Gateway:
    """As much of MQTT 3.1.1 as a gateway needs: connect, publish with QoS 1."""

    def __init__(self, port, gateway):
        self.topic = f"fleet/{gateway}/senml".encode()
        self.packet = 0
        self.socket = socket.create_connection(("127.0.0.1", port), 30)
        client = gateway.encode()
        body = b"\0\4MQTT\4\2" + struct.pack("!H", 300) + struct.pack("!H", len(client)) + client
        self.socket.sendall(b"\x10" + self.length(len(body)) + body)
        if self.socket.recv(4)[3:] != b"\0":
            sys.exit(f"{gateway} was not let in")

    @staticmethod
    def length(of):
        out = b""
        while True:
            of, digit = divmod(of, 128)
            out += bytes([digit | (0x80 if of else 0)])
            if not of:
                return out

    def publish(self, pack):
        """Sends one and waits until it is acknowledged, i.e. stored."""
        self.packet = self.packet % 65535 + 1
        payload = json.dumps(pack).encode()
        body = struct.pack("!H", len(self.topic)) + self.topic + struct.pack("!H", self.packet) + payload
        self.socket.sendall(b"\x32" + self.length(len(body)) + body)
        acknowledged = b""
        while len(acknowledged) < 4:
            more = self.socket.recv(4 - len(acknowledged))
            if not more:
                raise OSError("the server hung up")
            acknowledged += more


def readings(machine, at, condenser=41.5):
    """Eight readings of one machine, as a gateway sends them each minute."""
    return [{"bn": f"{machine}/", "bt": int(at), "n": "evaporator_temperature", "u": "Cel", "v": -6.4},
            {"n": "condenser_temperature", "u": "Cel", "v": condenser},
            {"n": "ambient_temperature", "u": "Cel", "v": 23.1},
            {"n": "water_temperature", "u": "Cel", "v": 14.5},
            {"n": "supply_current", "u": "A", "v": 3.9},
            {"n": "phase", "vs": "freeze"},
            {"n": "bin_full", "vb": False},
            {"n": "water_volume", "u": "m3", "v": 118.2}]


class Fleet(threading.Thread):
    """Every gateway but the probed ones publishes once a minute, evenly spread; over the limit where there is an alert."""

    def __init__(self, port, sites, alerts):
        super().__init__(daemon=True)
        self.port, self.sites, self.alerts = port, sites, alerts
        self.gateways = {}
        self.rounds, self.published, self.late, self.going = 0, 0, 0.0, True

    def condenser(self, site, index):
        """One machine of each of so many sites is over its limit."""
        has_alert = site * self.alerts // self.sites != (site + 1) * self.alerts // self.sites
        return 91.0 if index == 0 and has_alert else 41.5

    def run(self):
        while self.going:
            begun = time.time()
            for site in range(PROBED_SITES, self.sites):
                due = begun + 60.0 * site / self.sites
                pause = due - time.time()
                if pause > 0 and self.rounds > 1:
                    time.sleep(pause)
                self.late = max(self.late, -pause) if self.rounds > 1 else 0.0
                if site not in self.gateways:
                    self.gateways[site] = Gateway(self.port, f"gw-{name_of(site)}")
                now = time.time()
                pack = [reading for i, machine in enumerate(machines_of(site))
                        for reading in readings(machine, now, self.condenser(site, i))]
                try:
                    self.gateways[site].publish(pack)
                except OSError:
                    if self.going:
                        raise
                    return
                self.published += 1
            self.rounds += 1


STREAMS_OF_A_TOKEN = 20


def tokens(port, viewers):
    """As many tokens as so many streams need: each may have twenty."""
    made = []
    forgery = serve.get(f"http://127.0.0.1:{port}/api/v1/session")["forgeryToken"]
    for number in range(-(-viewers // STREAMS_OF_A_TOKEN)):
        ends = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(time.time() + 86_400))
        body = json.dumps({"name": f"screens {number}", "role": "viewer", "sites": None, "endsAt": ends})
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        connection.request("POST", "/api/v1/tokens", body,
                           {"Cookie": serve.HEADERS["Cookie"], "Content-Type": "application/json",
                            "Rimecast-Forgery-Token": forgery})
        answer = connection.getresponse()
        text = answer.read()
        if answer.status != 201:
            sys.exit(f"no token: the server answered {answer.status} {text[:300]}")
        made.append(json.loads(text)["secret"])
    return made


class Screens(threading.Thread):
    """
    Live streams as pages open them: every second one of the list of machines, the others of a machine each. The first one
    hears of every machine and is read, the others are only emptied.
    """

    def __init__(self, port, viewers):
        super().__init__(daemon=True)
        self.waiting, self.seconds, self.bytes, self.going = {}, [], 0, True  # waiting: machine to when it was published
        self.selector = selectors.DefaultSelector()
        self.text = b""
        secrets = tokens(port, viewers)
        for viewer in range(viewers):
            stream = socket.create_connection(("127.0.0.1", port), 30)
            wants = "alert" if viewer % 2 else f"alert,cycle,reading&machine={machines_of(PROBED_SITES + viewer)[0]}"
            wants = wants if viewer else "alert,reading"
            stream.sendall(f"GET /api/v1/events?kinds={wants} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n"
                           f"Authorization: Bearer {secrets[viewer // STREAMS_OF_A_TOKEN]}\r\n"
                           "Accept: text/event-stream\r\n\r\n".encode())
            self.selector.register(stream, selectors.EVENT_READ, viewer == 0)

    def run(self):
        while self.going:
            for key, _ in self.selector.select(0.5):
                data = key.fileobj.recv(1 << 18)
                now = time.monotonic()
                if not data:
                    sys.exit("a live stream ended")
                self.bytes += len(data)
                if key.data:
                    self.hear(data, now)

    def hear(self, data, now):
        *lines, self.text = (self.text + data).split(b"\n")
        for line in lines:
            if line.startswith(b"data: {\"machine\""):
                published = self.waiting.pop(json.loads(line[6:])["machine"], None)
                if published:
                    self.seconds.append(now - published)


def probe(port, screens, seconds):
    """Publishes readings of machines that say nothing else; each is awaited on a live stream."""
    gateways = [Gateway(port, f"gw-{name_of(site)}") for site in range(PROBED_SITES)]
    sent, begun = 0, time.monotonic()
    while time.monotonic() - begun < seconds:
        site, index = sent % PROBED_SITES, sent // PROBED_SITES % MACHINES_OF_A_SITE
        machine = machines_of(site)[index]
        screens.waiting[machine] = time.monotonic()
        gateways[site].publish(readings(machine, time.time()))
        sent += 1
        time.sleep(max(0.0, begun + sent / PROBES_A_SECOND - time.monotonic()))
    time.sleep(10)
    return sent


class Client:
    """One screen's connection, which is kept, and opened again where the server has closed it for being idle."""

    def __init__(self, port):
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.headers = {"Cookie": serve.HEADERS["Cookie"], "Accept-Encoding": "gzip"}

    def get(self, path, tag=None):
        """Seconds, status, bytes and entity tag of one answer."""
        headers = dict(self.headers, **({"If-None-Match": tag} if tag else {}))
        begun = time.monotonic()
        try:
            self.connection.request("GET", path, headers=headers)
            answer = self.connection.getresponse()
        except (http.client.RemoteDisconnected, ConnectionResetError):
            self.connection.close()
            self.connection.request("GET", path, headers=headers)
            answer = self.connection.getresponse()
        body = answer.read()
        return time.monotonic() - begun, answer.status, len(body), answer.headers.get("ETag")


def quantile(values, share):
    """The smallest value that so many of all are not above."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def say(what, seconds, more=""):
    print(f"{what}: p50 {quantile(seconds, 0.5) * 1000:.0f} ms, p99 {quantile(seconds, 0.99) * 1000:.0f} ms,"
          f" most {max(seconds) * 1000:.0f} ms of {len(seconds)}{more}; {serve.load()}", flush=True)


def paced(count, seconds_apart, ask):
    """So many answers, asked for at even distances; one that is late does not shift the next."""
    answers, begun = [], time.monotonic()
    for i in range(count):
        time.sleep(max(0.0, begun + i * seconds_apart - time.monotonic()))
        answers.append(ask())
    wrong = [answer for answer in answers if answer[1] not in (200, 304)]
    if wrong:
        sys.exit(f"the server answered {wrong[0][1]}")
    return [answer[0] for answer in answers]


def lists(port):
    client = Client(port)
    _, status, size, tag = client.get("/api/v1/fleet")
    print(f"fleet: {size / 1024:.0f} KiB packed, status {status}")
    for _ in range(20):  # what a just-in-time compiler has not seen yet
        time.sleep(1.05)
        client.get("/api/v1/fleet")
    # answers are kept for five seconds at most: these are the requests that wait until one is built
    say("fleet, built for who asks", paced(24, 5.1, lambda: client.get("/api/v1/fleet")))
    say("fleet, 20 requests a second", paced(1200, 0.05, lambda: client.get("/api/v1/fleet")))
    tag = client.get("/api/v1/fleet")[3]
    say("fleet, asked whether it changed", paced(400, 0.05, lambda: client.get("/api/v1/fleet", tag)))
    client.get("/api/v1/alerts")
    say("open alerts", paced(300, 0.1, lambda: client.get("/api/v1/alerts")))


def live(http_port, mqtt_port, options, process):
    screens = Screens(http_port, options.viewers)
    screens.start()
    time.sleep(2)
    asked, client, done = [], Client(http_port), threading.Event()

    def ask():
        while not done.is_set():
            asked.append(client.get("/api/v1/fleet")[0])
            time.sleep(0.2)

    asker = threading.Thread(target=ask, daemon=True)
    asker.start()
    sent = probe(mqtt_port, screens, options.seconds)
    done.set()
    asker.join(30)
    say(f"reading published to heard, {options.viewers} streams", screens.seconds,
        f", {sent - len(screens.seconds)} not heard, {screens.bytes / 1e6:.0f} MB streamed")
    say("fleet meanwhile", asked)
    print(f"memory: process tree {serve.pss_megabytes(process.pid):.0f} MB (PSS)")
    screens.going = False


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--machines", type=int, default=10_000)
    arguments.add_argument("--viewers", type=int, default=100)
    arguments.add_argument("--seconds", type=int, default=90, help="of publishing probes (default: 90)")
    arguments.add_argument("--alerts", type=int, default=200, help="machines over a limit (default: 200)")
    options = arguments.parse_args()
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(hard, 16_384), hard))
    sites = options.machines // MACHINES_OF_A_SITE
    directory = tempfile.mkdtemp(prefix="rimecast-live-")
    settings, http_port, mqtt_port = configure(directory, sites)
    log_name = os.path.join(directory, "serve.log")
    print(f"{os.cpu_count()} cores; {serve.load()}", flush=True)
    subprocess.run([serve.RIMECAST, "--version"], check=True)
    with open(log_name, "w") as log:
        process = serve.start(["serve", "--config", settings], log)
        try:
            begun = time.monotonic()
            serve.seconds_until(lambda: serve.is_up(http_port), 600, process)
            serve.seconds_until(lambda: serve.sign_in(http_port, log_name), 60, process)
            print(f"serve: up with {sites * MACHINES_OF_A_SITE} machines in {time.monotonic() - begun:.0f} s", flush=True)
            fleet = Fleet(mqtt_port, sites, options.alerts)
            fleet.start()
            serve.seconds_until(lambda: fleet.rounds >= 2 or not fleet.is_alive(), 1800, process)
            time.sleep(20)
            client = Client(http_port)
            url = f"http://127.0.0.1:{http_port}/api/v1/alerts?limit=10000"
            print(f"fleet: all gateways have published {fleet.rounds} times in {time.monotonic() - begun:.0f} s,"
                  f" {len(serve.get(url))} open alerts; {serve.load()}", flush=True)
            lists(http_port)
            live(http_port, mqtt_port, options, process)
            print(f"gateways: {fleet.published} packs, at most {fleet.late:.1f} s late")
            fleet.going = False
        finally:
            process.terminate()
            process.wait(120)
            with open(log_name) as text:
                print("log:", len([line for line in text if "WARN" in line or "ERROR" in line]), "warnings or errors")
    shutil.rmtree(directory)


if __name__ == "__main__":
    main()
