"""Compares voltage drop and fault current with two general power-system libraries.

Reads feeders.toml (the circuits) and the engine's results as JSON, builds every circuit again from the same inputs
and the published impedance table, and prints one row per number with the ratio engine / library.

Usage: python compare.py RESULTS.json [--table table.csv]
Exit status 1 if any number is outside its tolerance. Last line: `N passed, M failed`.

Tolerances and why:
- exact drop, 0.2 % or 0.01 V: both solve the same circuit; the library's sending voltage on inner runs is a little lower and
  turned by a fraction of a degree, and its ground connection is not quite zero.
- hand drop (R cos + X sin), 1 % or 0.02 V: the hand formula leaves out what the drop at right angles to the voltage adds.
- fault current by impedance, 0.2 %: same circuit; the library's primary is very stiff but not infinite.
- point to point, 0.88 to 1.15 of the library: the method adds magnitudes where a circuit adds vectors, which lowers its current
  by up to a tenth; its constants hold lower reactances than the impedance table for large conductors, and its factor of 1.5 for a
  half winding stands for anything from 1.33 to 1.67, which raise it. The engine holds the larger of both methods against ratings.
"""

import csv
import json
import math
import sys
import tomllib
from pathlib import Path

import opendssdirect as dss
from power_grid_model import (
    CalculationMethod,
    CalculationType,
    ComponentType,
    FaultType,
    LoadGenType,
    PowerGridModel,
    ShortCircuitVoltageScaling,
    initialize_array,
)

HERE = Path(__file__).resolve().parent
TABLE = HERE.parents[1] / "crates/rulebook/data/tables/impedance.csv"
STEEL = {"EMT", "RMC", "FMC", "AC", "MC"}
ALPHA = {"Cu": 0.00323, "Al": 0.00330}  # per degree C, on the 75 C resistance
COLD = 25.0  # conductor temperature for the largest fault current, C
EXACT = (0.002, 0.01)
HAND = (0.01, 0.02)
FAULT = (0.002, 0.0)
POINT_TO_POINT = (0.88, 1.15)


def impedance_table(path):
    """(size, metal, steel?) -> (R, X) in ohm per 1000 ft at 75 C."""
    table = {}
    with open(path, newline="", encoding="utf-8") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            if row["conduit"] not in ("PVC", "steel"):
                continue
            ohms = float(row["resistance_ohm_per_kft"]), float(row["reactance_ohm_per_kft"])
            for metal in row["material"].split("/"):
                table[row["size"], metal, row["conduit"] == "steel"] = ohms
    return table


def run_ohms(table, wire, run, celsius):
    size, metal = wire.split()
    r, x = table[size, metal, run["method"] in STEEL]
    r *= 1 + ALPHA[metal] * (celsius - 75)
    k = run["length"] / 1000 / run["sets"]
    return r * k, x * k


def build(feeder, table, celsius):
    """The circuit in OpenDSS: transformer, grounded neutral, three-conductor runs."""
    command = dss.Text.Command
    command("clear")
    command("new circuit.f basekv=12.47 pu=1.0 phases=3 mvasc3=1e7 mvasc1=1e7 bus1=src")
    t = feeder["transformer"]
    z = t["impedance_percent"]
    r = z / math.hypot(1, t["x_over_r"])
    x = r * t["x_over_r"]
    extra = "%noloadloss=0 %imag=0 ppm_antifloat=0"
    if feeder["system"] == "120/240":
        # Centre tap: the halves of an interlaced winding have 0.5 / 1.0 / 1.0 of R and star reactances 0.8 / 0.4 / 0.4 of X.
        command(
            f"new transformer.t phases=1 windings=3 xhl={1.2 * x} xht={1.2 * x} xlt={0.8 * x} %rs=[{r / 2} {r} {r}] "
            f"kvs=[7.199557 0.12 0.12] kvas=[{t['kva']} {t['kva']} {t['kva']}] buses=(src.1.0 b0.1.3 b0.3.2) {extra}"
        )
        neutral = 3
    else:
        command(
            f"new transformer.t phases=3 windings=2 xhl={x} %rs=[{r / 2} {r / 2}] kvs=[12.47 0.208] conns=[delta wye] "
            f"kvas=[{t['kva']} {t['kva']}] buses=(src.1.2.3 b0.1.2.4.3) {extra}"
        )
        neutral = 3
    command(f"new reactor.ground phases=1 bus1=b0.{neutral} bus2=b0.0 r=1e-7 x=0")
    for i, run in enumerate(feeder["runs"]):
        rh, xh = run_ohms(table, run["hot"], run, celsius)
        rn, xn = run_ohms(table, run["neutral"], run, celsius)
        command(
            f"new line.run{i} phases=3 bus1=b{i}.1.2.3 bus2=b{i + 1}.1.2.3 length=1 units=none "
            f"rmatrix=({rh} | 0 {rh} | 0 0 {rn}) xmatrix=({xh} | 0 {xh} | 0 0 {xn}) cmatrix=(0 | 0 0 | 0 0 0)"
        )
    return z


def solve():
    dss.Text.Command("set tolerance=1e-9 maxiterations=200")
    dss.Text.Command("calcvoltagebases")
    dss.Text.Command("solve mode=snapshot")
    if not dss.Solution.Converged():
        raise SystemExit("OpenDSS did not converge")


def node_voltages(bus):
    dss.Circuit.SetActiveBus(bus)
    values = dss.Bus.Voltages()
    return {n: complex(values[2 * i], values[2 * i + 1]) for i, n in enumerate(dss.Bus.Nodes())}


def voltage_drops(feeder, table):
    """Per run: drop leg A, leg B, leg to leg, in volts, from OpenDSS."""
    build(feeder, table, 75.0)
    load, end = feeder["load"], len(feeder["runs"])
    pf = load["power_factor"]
    legs = {"ab": (1, 2, load["line_to_line"]), "a": (1, 3, load["leg_a"]), "b": (2, 3, load["leg_b"])}
    for name, (p, q, amperes) in legs.items():
        if amperes:
            kv = {"120/240": 0.24, "208Y/120": 0.12 * math.sqrt(3)}[feeder["system"]] if q == 2 else 0.12
            kw = kv * amperes * pf
            kvar = kv * amperes * math.sqrt(max(0.0, 1 - pf * pf))
            dss.Text.Command(
                f"new load.{name} phases=1 bus1=b{end}.{p}.{q} kv={kv} kw={kw} kvar={kvar} model=5 vminpu=0.1 vmaxpu=2"
            )
    solve()
    drops = []
    for i in range(end):
        near, far = node_voltages(f"b{i}"), node_voltages(f"b{i + 1}")
        drops.append([abs(near[p] - near[q]) - abs(far[p] - far[q]) for p, q in ((1, 3), (2, 3), (1, 2))])
    return drops


def fault_currents(feeder, table):
    """Per end of run (0 is the transformer): line to line, line to neutral, in amperes, from OpenDSS."""
    currents = []
    for i in range(len(feeder["runs"]) + 1):
        pair = []
        for q in (2, 3):
            build(feeder, table, COLD)
            dss.Text.Command(f"new fault.f phases=1 bus1=b{i}.1 bus2=b{i}.{q} r=1e-7")
            solve()
            dss.Circuit.SetActiveElement("fault.f")
            c = dss.CktElement.Currents()
            pair.append(math.hypot(c[0], c[1]))
        currents.append(pair)
    return currents


def second_opinion(feeder, table):
    """Line to line through power-grid-model, as the single-phase equivalent of a balanced three-phase circuit.

    A loop of 240 V with impedance z is one phase of a three-phase circuit with 240 V to neutral and z per phase.
    """
    volts = 240.0 if feeder["system"] == "120/240" else 208.0
    t, load = feeder["transformer"], feeder["load"]
    per_phase = volts**2 / (t["kva"] * 1000) * t["impedance_percent"] / 100
    z = per_phase if feeder["system"] == "120/240" else 2 * per_phase
    r = z / math.hypot(1, t["x_over_r"])
    loops = [(r, r * t["x_over_r"])]

    def model(celsius):
        ohms = loops + [tuple(2 * v for v in run_ohms(table, run["hot"], run, celsius)) for run in feeder["runs"]]
        n = len(ohms)
        node = initialize_array("input", ComponentType.node, n + 1)
        node["id"], node["u_rated"] = range(n + 1), volts * math.sqrt(3)
        line = initialize_array("input", ComponentType.line, n)
        line["id"] = range(100, 100 + n)
        line["from_node"], line["to_node"] = range(n), range(1, n + 1)
        line["from_status"] = line["to_status"] = 1
        line["r1"], line["x1"] = zip(*ohms)
        line["c1"], line["tan1"], line["i_n"] = 0, 0, 1000
        line["r0"], line["x0"], line["c0"], line["tan0"] = line["r1"], line["x1"], 0, 0
        source = initialize_array("input", ComponentType.source, 1)
        source["id"], source["node"], source["status"], source["u_ref"] = 200, 0, 1, 1.0
        source["sk"] = 1e15
        return n, {ComponentType.node: node, ComponentType.line: line, ComponentType.source: source}

    n, data = model(75.0)
    sym = initialize_array("input", ComponentType.sym_load, 1)
    sym["id"], sym["node"], sym["status"], sym["type"] = 300, n, 1, LoadGenType.const_current
    amperes = load["line_to_line"] + (load["leg_a"] if feeder["system"] == "120/240" else 0)
    s = 3 * volts * amperes
    sym["p_specified"] = s * load["power_factor"]
    sym["q_specified"] = s * math.sqrt(max(0.0, 1 - load["power_factor"] ** 2))
    data[ComponentType.sym_load] = sym
    flow = PowerGridModel(data).calculate_power_flow(
        symmetric=True, error_tolerance=1e-10, max_iterations=100, calculation_method=CalculationMethod.newton_raphson
    )
    u = [v * volts for v in flow[ComponentType.node]["u_pu"]]
    drops = [u[i] - u[i + 1] for i in range(1, n)]

    faults = []
    for i in range(1, n + 1):
        n, data = model(COLD)
        fault = initialize_array("input", ComponentType.fault, 1)
        fault["id"], fault["status"], fault["fault_object"] = 400, 1, i
        fault["fault_type"], fault["r_f"], fault["x_f"] = FaultType.three_phase, 0, 0
        data[ComponentType.fault] = fault
        result = PowerGridModel(data).calculate_short_circuit(
            calculation_method=CalculationMethod.iec60909,
            short_circuit_voltage_scaling=ShortCircuitVoltageScaling.minimum,
        )
        # The standard's smallest voltage factor below 1 kV is 0.95; the engine works at nominal voltage.
        faults.append(float(result[ComponentType.fault]["i_f"][0][0]) / 0.95)
    return drops, faults


class Report:
    def __init__(self):
        self.passed = self.failed = 0

    def row(self, what, ours, theirs, tolerance):
        relative, absolute = tolerance
        good = abs(ours - theirs) <= max(relative * abs(theirs), absolute)
        self.add(what, ours, theirs, good)

    def between(self, what, ours, theirs, limits):
        self.add(what, ours, theirs, limits[0] <= ours / theirs <= limits[1])

    def add(self, what, ours, theirs, good):
        self.passed += good
        self.failed += not good
        ratio = ours / theirs if theirs else float("nan")
        print(f"{'ok  ' if good else 'FAIL'} {what:<66} {ours:>11.3f} {theirs:>11.3f} {ratio:>8.4f}")


def main():
    arguments = sys.argv[1:]
    path = TABLE
    if "--table" in arguments:
        at = arguments.index("--table")
        path = Path(arguments[at + 1])
        del arguments[at : at + 2]
    if len(arguments) != 1:
        raise SystemExit(__doc__)
    table = impedance_table(path)
    feeders = tomllib.loads((HERE / "feeders.toml").read_text(encoding="utf-8"))["feeder"]
    results = {r["id"]: r for r in json.loads(Path(arguments[0]).read_text(encoding="utf-8"))}
    report = Report()
    print(f"     {'feeder, place, quantity':<66} {'engine':>11} {'library':>11} {'ratio':>8}")
    for feeder in feeders:
        ours = results.pop(feeder["id"])
        drops, faults = voltage_drops(feeder, table), fault_currents(feeder, table)
        second_drops, second_faults = second_opinion(feeder, table)
        load = feeder["load"]
        balanced = load["leg_a"] == load["leg_b"] and feeder["system"] == "120/240" or not (load["leg_a"] or load["leg_b"])
        for i, (run, mine) in enumerate(zip(feeder["runs"], ours["runs"], strict=True)):
            place = f"{feeder['id']}, {run['name']}"
            for name, theirs in zip(("leg_a", "leg_b", "line_to_line"), drops[i], strict=True):
                report.row(f"{place}: drop {name}, exact, V (OpenDSS)", mine["drop"][name]["exact"], theirs, EXACT)
                report.row(f"{place}: drop {name}, by hand, V (OpenDSS)", mine["drop"][name]["hand"], theirs, HAND)
            if balanced:
                report.row(f"{place}: drop line_to_line, V (power-grid-model)",
                           mine["drop"]["line_to_line"]["exact"], second_drops[i], EXACT)
        for i, mine in enumerate(ours["faults"]):
            place = f"{feeder['id']}, " + ("transformer" if i == 0 else feeder["runs"][i - 1]["name"])
            for name, theirs in zip(("line_to_line", "line_to_neutral"), faults[i], strict=True):
                report.row(f"{place}: fault {name}, A (OpenDSS)", mine["impedance"][name], theirs, FAULT)
                report.between(f"{place}: fault {name}, point to point (OpenDSS)",
                               mine["point_to_point"][name], theirs, POINT_TO_POINT)
            report.row(f"{place}: fault line_to_line, A (power-grid-model)",
                       mine["impedance"]["line_to_line"], second_faults[i], FAULT)
    for left in results:
        print(f"FAIL {left}: in the results but not in feeders.toml")
        report.failed += 1
    print(f"{report.passed} passed, {report.failed} failed")
    return 1 if report.failed else 0


if __name__ == "__main__":
    sys.exit(main())
