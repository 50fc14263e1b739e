"""Saves the transfers of this fixture and records how the first release answers them.

Usage: write.py http://127.0.0.1:PORT FOLDER, where release 0.2.0 serves a new database.
"""
import json
import pathlib
import re
import sys
import urllib.error
import urllib.request

BASE, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])
START = "2026-11-27T09:00:00Z"


def ask(method, path, body=None, **headers):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(BASE + path, data, {"Content-Type": "application/json", **headers}, method=method)
    try:
        with urllib.request.urlopen(request) as answer:
            return answer.read().decode()
    except urllib.error.HTTPError as refused:
        told = refused.read().decode()
        if method == "GET" and refused.code in (400, 409):
            return None  # a move at once has no curve, a stopped transfer no plan
        raise SystemExit(f"{method} {path}: {told}") from None


def drip(**other):
    """Young spotted scats leave quarantine at 2 ppt for a mangrove display at 10 ppt."""
    return {
        "animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 3, "mass": "1 g"}],
        "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
        "container": {"shape": "bucket", "top_diameter": "30 cm", "bottom_diameter": "26 cm", "height": "32 cm",
                      "start_volume": "6 L", "least_volume": "6 L", "aerated": True},
        "line": {"drop_volume": "0.05 mL", "settings": 3},
        "source_tank": {"volume": "450 L", "surface": "7500 cm2"},
        "instrument": {"kind": "hydrometer", "calibration": "60F/60F"},
        "start": START, **other}


def plain(to, **other):
    return {"animals": [{"sensitivity": "moderate", "origin": "captive"}],
            "from": {"salinity": "2 ppt", "temperature": "25 C"}, "to": {"salinity": to, "temperature": "26 C"},
            "container": {"capacity": "20 L", "aerated": True}, "line": {"drop_volume": "0.05 mL"},
            "instrument": {"kind": "refractometer"}, "start": START, **other}


def at(hours, **read):
    day, hour = divmod(9 + hours, 24)
    whole = round(hour * 60)
    return {"time": f"2026-11-{27 + int(day)}T{whole // 60:02d}:{whole % 60:02d}:00Z", **read}


sensor = {"kind": "none"}
hose = {"drop_volume": "0.05 mL", "settings": 3, "tip_diameter": "3 mm", "bore": "4 mm", "length": "1.5 m", "head": "30 cm",
        "outlet_submerged": True, "intake_depth": "1 cm"}
overflow = {"capacity": "20 L", "start_volume": "8 L", "aerated": True, "overflow": True, "waste_capacity": "10 L"}

TRANSFERS = {
    "drip": (drip(), [], None),
    "drip_visits": (drip(visits={"every": "2 h", "quiet_from": "22:00", "quiet_until": "07:00"}, time_zone="Europe/Berlin", prefer="visits"), [], None),
    "drip_on_course": (drip(), [at(1, volume="6.7 L", temperature="26 C", behaviour="ok"), at(2, drops=40, drops_in="10 s")], None),
    "drip_corrected": (drip(line=hose), [at(4, salinity="1.0010(1) SG", temperature="26 C", volume="8.0(1) L", behaviour="ok"),
                                         at(4.5, salinity="1.0070(2) SG", temperature="26 C")], {"note": "blue valve"}),
    "drip_twice": (drip(animals=[{"sensitivity": "hardy"}]), [at(2, volume="7.2(1) L"), at(4, volume="8.4(1) L", salinity="4.4(2) ppt", temperature="26 C", instrument=sensor)], None),
    "drip_stopped": (drip(), [at(3, volume="8.5 L"), at(5, behaviour="gasping")], None),
    "drip_slow": (drip(), [at(4, volume="7.0(1) L")], None),
    "drip_no_way_on": (drip(animals=[{"sensitivity": "hardy", "origin": "captive", "count": 4, "mass": "1 g"}]),
                       [at(4, salinity="1.0010(1) SG", temperature="26 C", volume="8.0(1) L", behaviour="ok")], None),
    "drip_finished": (drip(), [at(14, salinity="7.8(2) ppt", temperature="26 C", instrument=sensor, volume="10.5 L", behaviour="ok")],
                      {"end": "2026-11-28T00:30:00Z", "note": "all three swim"}),
    "overflow": (plain("7 ppt", container=overflow, line={"drop_volume": "0.05 mL", "greatest_drip": "20 drops/s", "settings": 3}),
                 [at(2, salinity="3 ppt", temperature="25 C", behaviour="ok")], None),
    "staged": (plain("16 ppt", route="staged", holding_tanks={"volume": "100 L", "source": "0.2 ppt"}), [at(6, salinity="4 ppt", temperature="25 C")], None),
    "ramp": (plain("12 ppt", home_tank={"volume": "450 L", "source": "0.2 ppt", "evaporation_per_day": "3 L"}, route="ramp"),
             [at(1, salinity="2.4(3) ppt", temperature="25 C")], None),
    "ramp_stopped": (plain("12 ppt", home_tank={"volume": "450 L", "source": "0.2 ppt"}, route="ramp"), [at(12, behaviour="not_feeding")], None),
    "combined": (plain("16 ppt", home_tank={"volume": "200 L", "source": "0.2 ppt"}, route="combined"), [], None),
    "direct": (plain("3 ppt", route="direct"), [at(1, behaviour="ok")], None),
}


def numbers(told):
    """An answer without its words, to nine digits."""
    if isinstance(told, dict):
        return {k: numbers(v) for k, v in told.items() if k not in ("text", "summary", "key", "model")}
    if isinstance(told, list):
        return [numbers(v) for v in told]
    return float(f"{told:.9g}") if isinstance(told, float) else told


def lines(svg):
    """The curves of a picture, each on a square of side 1."""
    curves = []
    for points in re.findall(r'<polyline class="line" points="([^"]*)"', svg):
        xy = [[float(c) for c in p.split(",")] for p in points.split()]
        low, high = [min(c) for c in zip(*xy)], [max(c) for c in zip(*xy)]
        curves.append([[round((c - l) / ((h - l) or 1), 3) for c, l, h in zip(p, low, high)] for p in xy])
    return curves


(FOLDER / "answers").mkdir(exist_ok=True)
rows = ["name,id,key"]
for name, (request, readings, change) in TRANSFERS.items():
    saved = json.loads(ask("POST", "/v1/transfers", request, **{"Idempotency-Key": "fixture-of-the-first-release-" + name}))
    path, bearer = "/v1/transfers/" + saved["id"], {"Authorization": "Bearer " + saved["key"]}
    for reading in readings:
        ask("POST", path + "/readings", reading, **bearer)
    if change:
        ask("PATCH", path, change, **bearer)
    rows.append(f"{name},{saved['id']},{saved['key']}")
    answer = {"transfer": numbers(json.loads(ask("GET", path)))}
    chart, calendar = ask("GET", path + "/chart?format=svg"), ask("GET", path + "/calendar")
    if chart:
        answer["chart"] = lines(chart)
    if calendar:
        answer["calendar"] = re.findall(r"UID:(\S+)\r\nDTSTAMP:\S+\r\nDTSTART:(\S+)\r\nDTEND:(\S+)", calendar)
    print(name, answer["transfer"]["course"]["verdict"], answer["transfer"].get("plan", {}).get("route"), len(answer))
    (FOLDER / "answers" / (name + ".json")).write_text(json.dumps(answer, separators=(",", ":"), sort_keys=True) + "\n")
(FOLDER / "transfers.csv").write_text("\n".join(rows) + "\n")
