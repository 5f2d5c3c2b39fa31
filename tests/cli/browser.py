"""browser.py - a browser driven by WebDriver (W3C Recommendation, 5 June 2018), with nothing but the standard library
SPDX-License-Identifier: GPL-3.0-or-later
"""
import base64
import http.client
import json
import os
import re
import shutil
import subprocess

DRIVER = shutil.which("chromedriver")
BROWSER = shutil.which("chromium")
# The key under which the standard hands out elements.
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
HANGS = 120  # seconds


class Fault(Exception):
    """What the driver refuses."""


class Browser:
    """Chromium without a screen; its profile, downloads and log are in FOLDER."""

    def __init__(self, folder, width=1280, height=900):
        self.downloads = os.path.join(folder, "downloads")
        os.makedirs(self.downloads, exist_ok=True)
        self.driver = subprocess.Popen([DRIVER, "--port=0", "--log-path=" + os.path.join(folder, "driver.log")],
                                       stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                                       cwd=folder)
        try:
            self.port = self.find_port()
            self.path = ""
            # Nobody but the page shall ask for anything: no updates, no lists, no network for them either.
            words = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
                     "--disable-background-networking", "--disable-component-update", "--disable-sync",
                     "--hide-scrollbars", "--user-data-dir=" + os.path.join(folder, "profile"),
                     f"--window-size={width},{height}"]
            options = {"binary": BROWSER, "args": words,
                       "prefs": {"download.default_directory": self.downloads, "download.prompt_for_download": False}}
            made = self.ask("POST", "/session", {"capabilities": {"alwaysMatch": {
                "browserName": "chrome", "goog:chromeOptions": options,
                "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}}})
            self.path = "/session/" + made["sessionId"]
            self.size(width, height)
        except BaseException:
            self.end()
            raise

    def find_port(self):
        for line in self.driver.stdout:
            found = re.search(rb"successfully on port (\d+)", line)
            if found:
                return int(found.group(1))
        raise Fault("the driver does not start")

    def ask(self, method, path, body=None):
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=HANGS)
        data = None if body is None else json.dumps(body).encode()
        link.request(method, self.path + path, data, {"Content-Type": "application/json; charset=utf-8"})
        answer = link.getresponse()
        value = json.loads(answer.read())["value"]
        link.close()
        if answer.status != 200:
            raise Fault(f"{method} {path}: {value['error']}: {value['message'].splitlines()[0]}")
        return value

    def end(self):
        try:
            if self.path:
                self.ask("DELETE", "")
        finally:
            self.driver.terminate()
            self.driver.wait(timeout=HANGS)
            self.driver.stdout.close()

    def __enter__(self):
        return self

    def __exit__(self, *fault):
        self.end()

    # ---- A page

    def command(self, name, **words):
        """One of the browser's own protocol."""
        return self.ask("POST", "/goog/cdp/execute", {"cmd": name, "params": words})

    def size(self, width, height, scale=1):
        """Of the page's window; a phone is one under 600 wide."""
        self.command("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=scale,
                     mobile=width < 600)

    def open(self, file):
        self.ask("POST", "/url", {"url": file if ":" in file else "file://" + os.path.abspath(file)})

    def reload(self):
        self.ask("POST", "/refresh", {})

    def run(self, script, *words):
        """What a function of this body returns."""
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(words)})

    def find(self, selector):
        return self.ask("POST", "/element", {"using": "css selector", "value": selector})[ELEMENT]

    def click(self, selector):
        """As a finger does: the driver refuses what is hidden or covered.  What the browser has not laid out so far moves
        what is below it."""
        self.run("const one = document.querySelector(arguments[0]);"
                 "const frame = () => new Promise(done => requestAnimationFrame(done));"
                 "const look = () => { if (one) one.scrollIntoView({ block: 'center' }); return frame(); };"
                 "return look().then(frame).then(look).then(frame).then(() => 0)", selector)
        self.ask("POST", f"/element/{self.find(selector)}/click", {})

    def write(self, selector, text):
        self.ask("POST", f"/element/{self.find(selector)}/value", {"text": text})

    def press(self, *keys):
        """Keys to where the focus is."""
        actions = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        self.ask("POST", "/actions", {"actions": [{"type": "key", "id": "keys", "actions": actions}]})

    def text(self, selector):
        return self.ask("GET", f"/element/{self.find(selector)}/text")

    def shows(self, selector):
        return self.run("const one = document.querySelector(arguments[0]);"
                        "return !!one && one.checkVisibility();", selector)

    def picture(self, file):
        with open(file, "wb") as out:
            out.write(base64.b64decode(self.ask("GET", "/screenshot")))

    def log(self, kind):
        """What came since the last time: "browser" (what a script or a policy complained of), "performance" (events)."""
        return self.ask("POST", "/se/log", {"type": kind})

    def requests(self):
        """Addresses that were asked for since the last time."""
        found = []
        for entry in self.log("performance"):
            event = json.loads(entry["message"])["message"]
            if event["method"] == "Network.requestWillBeSent":
                found.append(event["params"]["request"]["url"])
        return found
