"""Solves the boards of `reference_face` again with OR-Tools CP-SAT and compares every level of the score, in strict order.

Usage: python face.py BOARDS.json [SECONDS]     (what `cargo run --example reference_face` prints)
The model is written from the description in docs/face.md, not from the engine's code: one yes-or-no variable for each way of each breaker
to sit, the levels minimised one after the other, each held at its optimum for the next. A level counts as compared when CP-SAT proves its
optimum in the time allowed; the engine must then have the same value, and where it says that a level is proven, CP-SAT must not do better.
"""

import json
import sys
import time
from pathlib import Path

from ortools.sat.python import cp_model

LEVELS = ["tandem halves", "imbalance", "continuous", "shortfall", "reach", "moves", "touching", "odd spares"]
PER_LEVEL = 4.0
LEAST_WHOLE = 60


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


def solve(problem, ours, stop):
    """Optimum of each level as far as CP-SAT proves it, 'infeasible', or fewer levels when time runs out."""
    model, level = build(problem)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    found = []
    for k in range(len(LEVELS)):
        left = min(PER_LEVEL, stop - time.perf_counter())
        if left <= 0:
            break
        solver.parameters.max_time_in_seconds = left
        model.minimize(level[k])
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return "infeasible" if k == 0 else found
        if status == cp_model.FEASIBLE and ours is not None and solver.objective_value < ours[k]:
            found.append(("better", round(solver.objective_value)))
            break
        if status != cp_model.OPTIMAL:
            break
        value = round(solver.objective_value)
        found.append(("optimal", value))
        model.add(level[k] == value)
        model.clear_hints()
        for index in range(len(model.proto.variables)):
            variable = model.get_bool_var_from_proto_index(index) if model.proto.variables[index].domain == [0, 1] else model.get_int_var_from_proto_index(index)
            model.add_hint(variable, solver.value(variable))
    return found


def main():
    if len(sys.argv) < 2:
        raise SystemExit(__doc__)
    boards = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 150.0
    stop = time.perf_counter() + seconds
    wrong, whole, levels, claimed, infeasible, unfinished = [], 0, 0, 0, 0, 0
    for board in boards:
        if time.perf_counter() >= stop:
            unfinished += 1
            continue
        layout = board.get("layout")
        ours = list(layout["score"].values()) if layout else None
        proven = [p["proven"] for p in layout["proofs"]] if layout else []
        found = solve(board["problem"], ours, stop)
        name = f"seed {board['seed']}"
        if found == "infeasible" or layout is None:
            same = found == "infeasible" and layout is None
            if not same and not (layout is None and "ruled out" in board["unsolved"]):
                wrong.append(f"{name}: the engine says {board.get('unsolved', 'feasible')}, CP-SAT says {found}")
            infeasible += same
            continue
        for k, (status, value) in enumerate(found):
            levels += status == "optimal"
            if proven[k]:
                claimed += 1
                if value != ours[k]:
                    wrong.append(f"{name}: {LEVELS[k]} is {ours[k]} by the engine, said to be proven, and {value} by CP-SAT")
            if value != ours[k]:
                print(f"{name}: {LEVELS[k]} {ours[k]} is not the optimum {value}; the engine does not claim it")
                break
        finished = len(found) == len(LEVELS) and all(v == o for (_, v), o in zip(found, ours))
        whole += finished
        unfinished += not finished
    print(
        f"{len(boards)} boards: the same optimum on all {len(LEVELS)} levels for {whole}, no layout by both for {infeasible}, not wholly compared {unfinished}; "
        f"{levels} levels proven by CP-SAT, {claimed} of them claimed as proven by the engine"
    )
    if wrong:
        raise SystemExit("\n".join(wrong))
    if whole + infeasible < LEAST_WHOLE:
        raise SystemExit(f"only {whole + infeasible} boards were wholly compared; {LEAST_WHOLE} are wanted")


if __name__ == "__main__":
    main()
