"""Solves the boards of `reference_face` again with OR-Tools CP-SAT and compares every level of the score, in strict order.

Usage: python face.py BOARDS.json [SECONDS] [--time]     (what `cargo run --example reference_face` prints)
With --time it prints how much longer CP-SAT takes, as JSON, over the boards on which both have the same proven optimum.
The model is written from the description in docs/face.md, not from the engine's code: one yes-or-no variable for each way of each breaker
to sit. The tandem halves, the imbalance and the continuous imbalance are minimised one after the other, each held at its optimum for the
next; then the levels below them together, weighted so that no sum of lower levels reaches the next one. A stage counts as compared when
CP-SAT proves its optimum in the time allowed; the engine must then have the same values, and where it says that a level is proven, CP-SAT
must not do better. Boards that run out of time are counted as not compared.
"""

import json
import sys
import time
from pathlib import Path

import ortools
from ortools.sat.python import cp_model

LEVELS = ["tandem halves", "imbalance", "continuous", "shortfall", "reach", "moves", "touching", "odd spares"]
PER_STAGE = 60.0
LEAST_WHOLE = 60
# Levels of each stage.
STAGES = [(0,), (1,), (2,), (3, 4, 5, 6, 7)]


def ways(problem, item, by_place):
    """Every way of one breaker: spaces from the top, half of a tandem or not, second circuit on top or not."""
    spaces = problem["spaces"]
    for top, space in enumerate(spaces):
        if item["allowed"] is not None and space["number"] not in item["allowed"]:
            continue
        taken = [by_place.get((space["column"], space["row"] + k)) for k in range(item["width"])]
        if None in taken:
            continue
        form = item["form"]
        if form in ("double", "tied") and spaces[taken[0]]["leg"] == spaces[taken[1]]["leg"]:
            continue
        yield taken, False, False
        if form == "tied":
            yield taken, False, True
        if form == "half" and space["tandem"]:
            yield taken, True, False


def effects(problem, item, taken, turned):
    """Signed load and continuous load, shortfall, reach and moves of one way."""
    spaces = problem["spaces"]
    poles = item["poles"][::-1] if turned else item["poles"]
    sign = [1 if spaces[s]["leg"] == "A" else -1 for s in taken]
    load = sum(g * p["load"] for g, p in zip(sign, poles))
    continuous = sum(g * p["continuous"] for g, p in zip(sign, poles))
    shortfall = reach = moves = 0
    for index, cable in enumerate(item["cables"]):
        mine = taken if len(item["cables"]) == 1 else [taken[1 - index if turned else index]]
        if cable["distance"]:
            far = max(cable["distance"][s] for s in mine)
            reach += far
            if cable["free"] is not None:
                shortfall += max(0, far - cable["free"])
        if cable["old"]:
            moves += sorted(cable["old"]) != sorted(spaces[s]["number"] for s in mine)
    return load, continuous, shortfall, reach, moves


def build(problem):
    model = cp_model.CpModel()
    spaces = problem["spaces"]
    by_place = {(s["column"], s["row"]): i for i, s in enumerate(spaces)}
    level = [[] for _ in LEVELS]
    signed = [[], []]
    load_on = [[] for _ in spaces]
    halves_in = [[] for _ in spaces]
    heavy_ends = [[] for _ in spaces]
    heavy_starts = [[] for _ in spaces]
    for i, item in enumerate(problem["items"]):
        chosen = []
        for taken, half, turned in ways(problem, item, by_place):
            x = model.new_bool_var(f"{i}-{taken[0]}-{half}-{turned}")
            chosen.append(x)
            load, continuous, shortfall, reach, moves = effects(problem, item, taken, turned)
            signed[0].append(load * x)
            signed[1].append(continuous * x)
            for k, value in ((0, int(half)), (3, shortfall), (4, reach), (5, moves)):
                level[k].append(value * x)
            for s in taken:
                load_on[s].append((1 if half else 2) * x)
                if half:
                    halves_in[s].append(x)
            if item["heavy"]:
                heavy_starts[taken[0]].append(x)
                heavy_ends[taken[-1]].append(x)
        model.add_exactly_one(chosen)
    free = []
    for s in range(len(spaces)):
        used = model.new_bool_var(f"used-{s}")
        model.add(sum(load_on[s]) <= 2 * used)
        model.add(sum(load_on[s]) >= used)
        free.append(1 - used)
    model.add(sum(free) >= problem["spare"])
    # Follows from the rest; said so that too many breakers are seen at once.
    model.add(sum(sum(x) for x in load_on) <= 2 * (len(spaces) - problem["spare"]))
    pairs = []
    covering = [[] for _ in spaces]
    for s, space in enumerate(spaces):
        below = by_place.get((space["column"], space["row"] + 1))
        if below is None:
            continue
        touching = model.new_bool_var(f"touching-{s}")
        model.add(sum(heavy_ends[s]) + sum(heavy_starts[below]) <= 1 + touching)
        level[6].append(touching)
        if spaces[below]["leg"] != space["leg"]:
            pair = model.new_bool_var(f"pair-{s}")
            pairs.append(pair)
            for end in (s, below):
                covering[end].append(pair)
    for s in range(len(spaces)):
        model.add(sum(covering[s]) <= free[s])
    for k in (0, 1):
        most = sum(abs(p[("load", "continuous")[k]]) for i in problem["items"] for p in i["poles"])
        difference = model.new_int_var(0, most, f"difference-{k}")
        model.add(difference >= sum(signed[k]))
        model.add(difference >= -sum(signed[k]))
        level[1 + k] = [difference]
    level[7] = free + [-2 * p for p in pairs]
    return model, [sum(terms) if terms else 0 for terms in level]


def weights(problem):
    """Weight of each level of the last stage: above everything the levels below it can come to."""
    spaces = len(problem["spaces"])
    cables = [c for item in problem["items"] for c in item["cables"]]
    reach = sum(max(c["distance"], default=0) for c in cables)
    pairs, touching = 1, spaces + 1
    moves = touching * (spaces + 1)
    inch = moves * (len(cables) + 1)
    return {3: inch * (reach + 1), 4: inch, 5: moves, 6: touching, 7: pairs}


def solve(problem, stop):
    """Optimal values of the levels as far as CP-SAT proves them; 'infeasible' when it proves that nothing fits."""
    model, level = build(problem)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    # Counted in the solver's own measure of effort, so that a busy machine compares as many boards as an idle one.
    solver.parameters.max_deterministic_time = PER_STAGE
    found = []
    for stage in STAGES:
        left = stop - time.perf_counter()
        if left <= 0:
            break
        solver.parameters.max_time_in_seconds = left
        weight = weights(problem) if len(stage) > 1 else {stage[0]: 1}
        model.minimize(sum(weight[k] * level[k] for k in stage))
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return "infeasible"
        if status != cp_model.OPTIMAL:
            break
        for k in stage:
            value = solver.value(level[k])
            found.append(value)
            model.add(level[k] == value)
    return found


def main():
    if len(sys.argv) < 2:
        raise SystemExit(__doc__)
    boards = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 420.0
    stop = time.perf_counter() + seconds
    wrong, whole, levels, claimed, infeasible, unfinished = [], 0, 0, 0, 0, 0
    start = time.perf_counter()
    ours_us, theirs = 0, 0.0
    for board in boards:
        layout = board.get("layout")
        before = time.perf_counter()
        found = solve(board["problem"], stop) if before < stop else []
        took = time.perf_counter() - before
        name = f"seed {board['seed']}"
        if found == "infeasible" or layout is None:
            if found == "infeasible" and layout is None:
                infeasible += 1
            elif found == "infeasible" or found:
                wrong.append(f"{name}: the engine says {board.get('unsolved', 'it fits')}, CP-SAT says {found}")
            else:
                unfinished += 1
            continue
        ours = list(layout["score"].values())
        for k, value in enumerate(found):
            levels += 1
            claimed += layout["proofs"][k]["proven"]
            if value != ours[k]:
                message = f"{name}: {LEVELS[k]} is {ours[k]} by the engine and {value} by CP-SAT"
                if layout["proofs"][k]["proven"] or value > ours[k]:
                    wrong.append(message)
                else:
                    print(message + ", which the engine does not claim to be proven")
                break
        same = found == ours
        whole += same
        unfinished += len(found) < len(ours)
        if same:
            ours_us += board["us"]
            theirs += took
    seconds = time.perf_counter() - start
    if "--time" in sys.argv:
        print(json.dumps({
            "what": "face of a board, all levels",
            "boards": whole,
            "solver": "OR-Tools CP-SAT " + ortools.__version__,
            "engine_us": ours_us,
            "solver_us": round(theirs * 1e6),
            "solver_time_over_engine_time": round(theirs * 1e6 / max(ours_us, 1), 1),
        }))
        return
    print(
        f"{len(boards)} boards in {seconds:.0f} s: the same optimum on all {len(LEVELS)} levels for {whole}, no layout by both for {infeasible}, "
        f"not wholly compared {unfinished}; {levels} levels proven by CP-SAT, {claimed} of them claimed as proven by the engine"
    )
    if wrong:
        raise SystemExit("\n".join(wrong))
    if whole + infeasible < LEAST_WHOLE:
        raise SystemExit(f"only {whole + infeasible} boards were wholly compared; {LEAST_WHOLE} are wanted")


if __name__ == "__main__":
    main()
