"""Times OpenDSS on the feeders of feeders.toml, and names the ratio to the engine's time on the same feeders.

Usage: python bench.py ENGINE.json     (what `reference_feeders feeders.toml --time` prints)
Per round: voltage drop of every run, and both fault currents at every end of a run, of all feeders. The library is driven through
its text interface as compare.py does it, circuit set-up included, because that is how a program without calculations of its own
would have to do it. One JSON value on standard output.
"""

import json
import statistics
import sys
import time
import tomllib
from pathlib import Path

import opendssdirect
from compare import HERE, TABLE, fault_currents, impedance_table, voltage_drops

ROUNDS = 7


def main():
    if len(sys.argv) != 2:
        raise SystemExit(__doc__)
    engine = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    table = impedance_table(TABLE)
    feeders = tomllib.loads((HERE / "feeders.toml").read_text(encoding="utf-8"))["feeder"]
    times = []
    for _ in range(ROUNDS + 1):
        start = time.perf_counter()
        for feeder in feeders:
            voltage_drops(feeder, table)
            fault_currents(feeder, table)
        times.append((time.perf_counter() - start) * 1e6)
    library = statistics.median(times[1:])
    print(json.dumps({
        "what": "voltage drop and fault current of all reference feeders",
        "feeders": len(feeders),
        "library": "OpenDSS through opendssdirect.py " + opendssdirect.__version__,
        "engine_median_us": engine["median_us"],
        "library_median_us": round(library, 1),
        "library_time_over_engine_time": round(library / engine["median_us"], 1),
    }))


if __name__ == "__main__":
    main()
