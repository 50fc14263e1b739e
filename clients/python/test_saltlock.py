"""Tests of the module against the real program, whose address is in SALTLOCK_URL."""

import asyncio
import contextlib
import http.server
import io
import os
import threading
import time
import unittest
import uuid

import saltlock
from saltlock import aio

URL = os.environ["SALTLOCK_URL"]


class Answers(unittest.TestCase):
    """What the real program says through the module."""

    def setUp(self):
        self.service = saltlock.Client(URL)

    def test_how_much_marine_salt(self):
        mix = self.service.get_salt_mix(target="1.010 SG", volume="120 gal")
        # 454 L of water with 13.4 g/kg hold about 6.1 kg.
        self.assertAlmostEqual(mix["salt"]["value"], 6.1, delta=0.1)
        self.assertEqual(mix["salt"]["unit"], "kg")
        self.assertIn("454 L (120 gal)", mix["summary"])

    def test_sg_to_ppt(self):
        water = self.service.get_conversion(reading="1.0055 SG", temperature="26 C", instrument="hydrometer", calibration="60F/60F")
        self.assertAlmostEqual(water["practical_salinity"]["value"], 10, delta=0.3)
        self.assertGreater(len(water["corrections"]), 0)

    def test_many_readings(self):
        answer = self.service.convert_readings([{"reading": "35 ppt"}, {"reading": "35"}])
        self.assertEqual((answer["good"], answer["bad"]), (1, 1))
        # IAPWS R13-08: 35 on the practical scale is 35.16504 g/kg.
        self.assertAlmostEqual(answer["items"][0]["conversion"]["absolute_salinity"]["value"], 35.16504, places=4)
        self.assertEqual(answer["items"][1]["errors"][0]["where"], "/reading")

    def test_plan(self):
        plan = self.service.plan_transfer({
            "animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive"}],
            "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
            "container": {"capacity": "20 L", "start_volume": "6 L", "aerated": True}, "line": {"drop_volume": "0.05 mL"},
        })
        self.assertEqual(plan["route"], "drip")
        self.assertTrue(all(limit["margin"]["value"] >= 0 for limit in plan["limits"]))

    def test_saved(self):
        begun = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(time.time() - 3600))
        saved = self.service.save_transfer({
            "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
            "animals": [{"sensitivity": "hardy"}], "start": begun,
            "container": {"capacity": "20 L", "start_volume": "6 L", "aerated": True}})
        with self.assertRaises(saltlock.ProblemError) as refused:
            self.service.log_reading({"behaviour": "ok"}, id=saved["id"])
        self.assertEqual(refused.exception.status, 401)
        keeper = saltlock.Client(self.service.base_url, key=saved["key"])
        self.assertIn("course", keeper.log_reading({"behaviour": "ok"}, id=saved["id"]))
        keeper.delete_transfer(id=saved["id"])

    def test_lists_and_paths(self):
        shared = self.service.get_compatibility(species=["scatophagus-argus:juvenile", "carassius-auratus"])
        self.assertEqual(len(shared["members"]), 2)
        self.assertEqual(self.service.get_species(id="scatophagus-argus")["scientific_name"], "Scatophagus argus")

    def test_forms(self):
        question = {"target": "10 ppt", "volume": "450 L"}
        self.assertIn("Start with", self.service.text("get_salt_mix", **question))
        self.assertAlmostEqual(self.service.number("get_salt_mix", "salt", **question), 4.54, delta=0.01)
        self.assertTrue(self.service.fetch("get_salt_mix", **question, format="csv").startswith(b"salt [kg],"))
        plan = {"from_salinity": "2 ppt", "from_temperature": "26 C", "to_salinity": "10 ppt", "to_temperature": "26 C",
                "container_capacity": "20 L", "container_start_volume": "6 L", "container_aerated": True, "sensitivity": "hardy"}
        self.assertTrue(self.service.fetch("get_transfer_plan", **plan, format="png").startswith(b"\x89PNG"))

    def test_every_fault_at_once(self):
        with self.assertRaises(saltlock.ProblemError) as caught:
            self.service.get_salt_mix(target="1.010", volume="120")
        problem = caught.exception
        self.assertEqual((problem.status, problem.type), (400, "/problems/invalid-request"))
        self.assertEqual([fault["where"] for fault in problem.errors], ["target", "volume"])
        self.assertIn('Write "1.010 SG"', str(problem))

    def test_unknown_input(self):
        with self.assertRaisesRegex(TypeError, "takes no volum; do you mean volume?"):
            self.service.url("get_salt_mix", volum="1 L")
        with self.assertRaisesRegex(TypeError, "needs id"):
            self.service.url("get_species")

    def test_url(self):
        url = saltlock.Client("http://x/").url("get_compatibility", species=["a:adult", "b"], salinity=None, ph=8.1)
        self.assertEqual(url, "http://x/v1/species/compatibility?species=a%3Aadult&species=b&ph=8.1")
        self.assertEqual(saltlock.Client("http://x").url("get_species", id="a/b"), "http://x/v1/species/a%2Fb")


class Async(unittest.IsolatedAsyncioTestCase):
    """The same through asyncio."""

    async def test_side_by_side(self):
        service = aio.Client(URL)
        mix, kg, text = await asyncio.gather(
            service.get_salt_mix(target="10 ppt", volume="450 L"),
            service.number("get_salt_mix", "salt", target="10 ppt", volume="450 L"),
            service.text("get_salt_mix", target="10 ppt", volume="450 L"))
        self.assertAlmostEqual(mix["salt"]["value"], kg, places=4)
        self.assertIn("450 L", text)

    async def test_refusal(self):
        with self.assertRaises(saltlock.ProblemError):
            await aio.Client(URL).get_salt_mix(target="1.010", volume="120")


class Shell(unittest.TestCase):
    """python3 -m saltlock."""

    def ask(self, *arguments):
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = saltlock.main(list(arguments))
        return code, out.getvalue(), err.getvalue()

    def test_answer(self):
        code, out, _ = self.ask("mixes/salt", "target=10 ppt", "volume=450L", "only=salt")
        self.assertEqual((code, round(float(out), 2)), (0, 4.54))
        code, out, _ = self.ask("species/scatophagus-argus", "--json")
        self.assertEqual(code, 0)
        self.assertIn('"id":"scatophagus-argus"', out)
        code, out, _ = self.ask("species/compatibility", "species=scatophagus-argus", "species=carassius-auratus")
        self.assertEqual(code, 0)

    def test_refusals(self):
        code, _, err = self.ask("mixes/salt", "target=10", "volume=450L")
        self.assertEqual(code, 1)
        self.assertIn("target:", err)
        self.assertEqual(self.ask("mixes/pepper")[0], 2)
        self.assertEqual(self.ask("mixes/salt", "target")[0], 2)
        self.assertEqual(self.ask("mixes/salt", "targt=10ppt")[0], 2)
        self.assertEqual(self.ask()[0], 2)
        self.assertIn("mixes/salt", self.ask("--help")[1])
        self.assertEqual(self.ask("--server", "http://127.0.0.1:9", "methods")[0], 1)


class Busy(http.server.BaseHTTPRequestHandler):
    """Refuses as often as its server says, then answers."""

    def do_GET(self):
        self.server.keys.add(self.headers["Idempotency-Key"])
        self.server.asked += 1
        if self.server.asked > self.server.refusals:
            return self.answer(200, {"Content-Type": "application/json"})
        if self.server.silence:
            time.sleep(self.server.silence)
        return self.answer(self.server.status, {"Retry-After": self.server.after} if self.server.after else {})

    do_POST = do_GET

    def answer(self, status, headers):
        self.rfile.read(int(self.headers.get("Content-Length", 0)))
        with contextlib.suppress(BrokenPipeError, ConnectionResetError):
            self.send_response(status)
            for name, value in {**headers, "Content-Length": "2"}.items():
                self.send_header(name, value)
            self.end_headers()
            self.wfile.write(b"{}")

    def log_message(self, *_):
        pass


class Patience(unittest.TestCase):
    """Retries and timeouts, against a service made to be busy."""

    def call(self, *, status=503, after=None, refusals=1, post=False, silence=0.0, timeout=5.0):
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Busy)
        server.asked, server.status, server.after, server.refusals, server.silence, server.keys = 0, status, after, refusals, silence, set()
        threading.Thread(target=server.serve_forever, args=[0.01], daemon=True).start()
        self.waits = []
        service = saltlock.Client(f"http://127.0.0.1:{server.server_port}", timeout=timeout, sleep=self.waits.append)
        try:
            service.convert_readings([{"reading": "10 ppt"}]) if post else service.list_methods()
            self.keys = server.keys
            return None, server.asked
        except (saltlock.ProblemError, saltlock.Unreachable) as error:
            return error, server.asked
        finally:
            server.shutdown()
            server.server_close()

    def test_seconds(self):
        self.assertEqual(self.call(status=429, after="7", refusals=2), (None, 3))
        self.assertEqual(self.waits, [7.0, 7.0])

    def test_date(self):
        self.assertEqual(self.call(after="Sun, 06 Nov 1994 08:49:37 GMT"), (None, 2))
        self.assertEqual(self.waits, [0.0])
        soon = saltlock.email.utils.formatdate(time.time() + 20, usegmt=True)
        self.assertEqual(self.call(after=soon), (None, 2))
        self.assertAlmostEqual(self.waits[0], 20, delta=3)

    def test_longer_than_one_waits(self):
        error, asked = self.call(status=429, after="3600")
        self.assertEqual((error.status, error.type, error.retry_after, asked), (429, "about:blank", 3600.0, 1))

    def test_backoff_ends(self):
        error, asked = self.call(refusals=9)
        self.assertEqual((error.status, asked, len(self.waits)), (503, 4, 3))
        for wait, most in zip(self.waits, (0.5, 1.0, 2.0)):
            self.assertTrue(most / 2 <= wait <= most, f"{wait} of {most}")

    def test_post(self):
        self.assertEqual(self.call(after="1", post=True), (None, 2))
        (key,) = self.keys  # each try has the same
        self.assertEqual(uuid.UUID(key).version, 4)
        self.assertEqual(self.call(status=502, post=True)[1], 1)

    def test_faults_are_not_repeated(self):
        self.assertEqual(self.call(status=400)[1], 1)

    def test_silence(self):
        error, _ = self.call(refusals=9, silence=0.5, timeout=0.05)
        self.assertIsInstance(error, saltlock.Unreachable)
        self.assertEqual(len(self.waits), 3)
        self.call(refusals=9, silence=0.5, timeout=0.05, post=True)
        self.assertEqual(self.waits, [])


if __name__ == "__main__":
    unittest.main()
