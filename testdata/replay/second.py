"""A second replay of one plant's season, from the daily record alone.

Reads a JSON document on standard input: the soils, roof and bands of a bed, a
plant and its days. Writes what the plant met: its worst wet spell (hours, those
of the dormant season for a third), its longest spell wet or with under 10 % of air
in the mix, and its driest spell (days without water on
garden loam), each over what it bears at its age. Nothing is taken from the
program but the figures of the bed: Hargreaves (FAO-56 Eq. 21-25, 52), daylight
(Eq. 34), Type II rain (TR-55, nrcs-type-ii-0.1h.csv), water in explicit steps,
the root store of FAO-56 (Eq. 82-85) are written down here anew.
"""
import csv
import datetime as dt
import json
import math
import sys

q = json.load(sys.stdin)
day0 = dt.date.fromisoformat


def read_days():
    with open(q["rain_csv"], encoding="utf-8") as f:
        for row in csv.DictReader(f):
            yield day0(row["date"]), float(row["rain_mm"]), float(row["tmin_c"]), float(row["tmax_c"])


days = list(read_days())
index = {d: i for i, (d, *_) in enumerate(days)}


def sun(day):
    """Ra, MJ/m2 a day, and the hours of daylight."""
    j, phi = day.timetuple().tm_yday, math.radians(q["latitude"])
    decl = 0.409 * math.sin(2 * math.pi * j / 365 - 1.39)
    ws = math.acos(-math.tan(phi) * math.tan(decl))
    ra = 24 * 60 / math.pi * 0.0820 * (1 + 0.033 * math.cos(2 * math.pi * j / 365))
    return ra * (ws * math.sin(phi) * math.sin(decl) + math.cos(phi) * math.cos(decl) * math.sin(ws)), 24 / math.pi * ws


def et0(i):
    day, _, low, high = days[i]
    return max(0.0, 0.0023 * ((low + high) / 2 + 17.8) * math.sqrt(high - low) * 0.408 * sun(day)[0])


def hourly_sun(day):
    """Shares of the day's ET0: half a sine from sunrise to sunset."""
    n = sun(day)[1]
    cut = [(1 - math.cos(math.pi * min(1, max(0, (t - 12 + n / 2) / n)))) / 2 for t in range(25)]
    return [b - a for a, b in zip(cut, cut[1:])]


def mean_near(i):
    near = days[max(0, i - 15):i + 16]
    return sum((low + high) / 2 for _, _, low, high in near) / len(near)


growing = [mean_near(i) >= 5 for i in range(len(days))]
growing_a_year = 365.25 * sum(growing) / q["record_days"]

with open(q["type_ii_csv"], encoding="utf-8") as f:
    fallen = {round(float(r["hour"]), 1): float(r["cumulative_fraction"]) for r in csv.DictReader(f)}
type_ii = [fallen[h + 1.0] - fallen[float(h)] for h in range(24)]

# The bed: bands from the bottom up, each a plane from its foot to its top.
bands, depth = q["bands"], q["mix_depth_mm"]
fc, wp, sat = q["fc"] * depth, q["wp"] * depth, q["sat"] * depth
deep = -bands[0]["foot_mm"]


def volume(level):
    total = 0.0
    for b in bands:
        foot, top = b["foot_mm"], b["top_mm"]
        if level >= top:
            total += b["area_m2"] * (level - (foot + top) / 2)
        elif level > foot:
            total += b["area_m2"] * (level - foot) ** 2 / (2 * (top - foot))
    return total / 1000


table = [volume(-deep + deep * k / 1500) for k in range(1501)]


def level_of(pond):
    low, high = 0, 1500
    while high - low > 1:
        mid = (low + high) // 2
        if table[mid] <= pond:
            low = mid
        else:
            high = mid
    part = min(1.0, (pond - table[low]) / (table[high] - table[low]))
    return -deep + deep * (low + part) / 1500


def ks(depleted, taw, p):
    return 1.0 if depleted <= p * taw else max(0.0, (taw - depleted) / ((1 - p) * taw))


def fraction(etc):
    return min(0.8, max(0.1, 0.5 + 0.04 * (5 - etc)))


# The water, by explicit steps.
held, pond, dry_roof = [fc] * len(bands), 0.0, q["loss_mm"]
at = q["band"]
start = index[day0(q["planted"])] - 200
offered, run, airless = {}, 0.0, 0
worst = {}  # most equivalent hours reached, by day
short = {}  # most hours short of air reached, by day


def step(hours, rain, inflow, demand, p):
    """rain and demand in mm, inflow in m3, of this step. Returns what the roots of
    the plant's band were offered."""
    global pond
    level, free, wanted, told = level_of(pond), pond + inflow, 0.0, 0.0
    part = []
    for i, b in enumerate(bands):
        under = 0.0
        if i == 0:
            under = 1.0 if free > 0 or rain > q["mix_mmh"] * hours else 0.0
        elif level > b["foot_mm"]:
            under = min(1.0, (level - b["foot_mm"]) / (b["top_mm"] - b["foot_mm"]))
        power = 3 + 2 * math.log(1500 / 33) / math.log(q["fc"] / q["wp"])  # Saxton and Rawls 2006, Eq. 17 and 18
        seep = hours * min(q["native_mmh"], q["mix_mmh"] * (held[i] / sat) ** power) if held[i] > fc else 0.0
        room = sat - held[i] + seep
        own = min((1 - under) * min(rain, q["mix_mmh"] * hours), room)
        most = min(under * q["mix_mmh"] * hours, room - own)
        free += (rain - own) * b["area_m2"] / 1000
        wanted += most * b["area_m2"] / 1000
        part.append((under, seep, own, most))
    share = 1.0 if wanted <= free else free / wanted
    for i, b in enumerate(bands):
        under, seep, own, most = part[i]
        area = b["area_m2"] / 1000
        free -= share * most * area
        lake = min(under * demand, max(free, 0.0) / area)
        free -= lake * area
        if i == at:
            told = own + share * most + lake
        held[i] += own + share * most - seep
        held[i] -= (demand - lake) * ks(fc - held[i], fc - wp, p)
    pond = min(max(free, 0.0), table[-1])
    return told


b = bands[at]
for i in range(start, index[day0(q["to"])] + 1):
    day, fell = days[i][0], days[i][1]
    need = et0(i)
    shares = hourly_sun(day)
    p = fraction(q["kc"] * need)
    took = max(0.0, held[at] - fc)  # what stood over field capacity this morning
    for h in range(24):
        rain, demand = fell * type_ii[h], need * shares[h]
        first = min(dry_roof, rain)
        dry_roof = min(q["loss_mm"], dry_roof - first + demand)
        inflow = (rain - first) * q["coefficient"] * q["roof_m2"] / 1000
        n = 60 if pond > 0 or inflow > 0.02 else 6
        for _ in range(n):
            took += step(1 / n, rain / n, inflow / n, q["kc"] * demand / n, p)
        ponded = pond > 1e-6 * table[-1] and level_of(pond) >= (b["foot_mm"] + b["top_mm"]) / 2 and level_of(pond) > b["foot_mm"]
        if ponded or held[at] >= 0.95 * sat:
            run += 1 if growing[i] else 1 / 3
            worst[i] = max(worst.get(i, 0.0), run)
        else:
            run = 0.0
        airless = airless + 1 if ponded or held[at] > sat - 0.10 * depth else 0
        short[i] = max(short.get(i, 0), airless)
    offered[i] = took

# The plant: what it bears grows from half to all as its roots do in a year.
planted = index[day0(q["planted"])]
roots = [min(1.0, sum(growing[planted:i]) / growing_a_year) for i in range(planted, index[day0(q["to"])] + 1)]
wet_found = wet_bears = wet_severity = 0.0
for i, hours in worst.items():
    if i < max(planted, index[day0(q["from"])]):
        continue
    bears = (0.5 + 0.5 * roots[i - planted]) * q["wet_h"]
    if hours / bears > wet_severity:
        wet_found, wet_bears, wet_severity = hours, bears, hours / bears
air_poor = max(h for i, h in short.items() if i >= max(planted, index[day0(q["from"])]))


def taw(cm):
    mix = min(cm * 10, depth)
    return (q["fc"] - q["wp"]) * mix + (q["native_fc"] - q["native_wp"]) * (cm * 10 - mix)


# Garden loam (Saxton and Rawls 2006, 2.5 % organic matter), 5 mm a day, no water at all.
loam, load, gone = (0.280 - 0.137) * q["root_cm"] * 10, [0.0], 0.0
while len(load) < 400:
    gone += 5 * ks(gone, loam, 0.5)
    load.append((load[-1] + 1) * (1 - ks(gone, loam, 0.5)))


def loam_days(drought, depleted):
    calm = 0.5 * loam / 5
    if drought <= 0:
        return min(depleted * loam / 5, calm)
    k = next(k for k, v in enumerate(load) if v >= drought)
    return max(calm, k - 1 + (drought - load[k - 1]) / (load[k] - load[k - 1]))


# What was poured on the zone is shared by discs about its plants, as wide as their
# roots by then and 10 cm more all round; eight tenths of it reach the roots.
poured = {}
for day, litres in q["watered"]:
    i = index[day0(day)]
    wide = [min(15, s) + roots[i - planted] * (s - min(15, s)) + 20 for s in q["spreads_cm"]]
    ground = sum(math.pi / 4 * (w / 100) ** 2 for w in wide)
    poured[i] = poured.get(i, 0.0) + 0.8 * litres / ground

gone, drought, dry_found, dry_bears, dry_severity = 0.0, 0.0, 0.0, 0.0, 0.0
for i in range(planted, index[day0(q["to"])] + 1):
    young = roots[i - planted]
    pot = min(15.0, q["root_cm"])
    store = taw(pot + young * (q["root_cm"] - pot))
    use = q["kc"] * et0(i) * (2 / 3 + young / 3)
    gone = max(0.0, gone - offered[i] - poured.get(i, 0.0))
    gone = min(store, gone + use * ks(gone, store, fraction(use)))
    stress = ks(gone, store, fraction(use))
    drought = 0.0 if stress >= 1 or not growing[i] else (drought + 1) * (1 - stress)
    bears = (0.5 + 0.5 * young) * q["dry_d"]
    found = loam_days(drought, gone / store) if growing[i] else 0.0
    if days[i][0] >= day0(q["from"]) and found / bears > dry_severity:
        dry_found, dry_bears, dry_severity = found, bears, found / bears

json.dump({"air_poor_h": air_poor, "wet_h": wet_found, "wet_bears_h": wet_bears, "dry_d": dry_found, "dry_bears_d": dry_bears}, sys.stdout)
