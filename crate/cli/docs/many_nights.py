#!/usr/bin/env python3
"""Works through a season: a folder with a folder for each card, each of which `dusklens night` examines into a folder of its own.

    many_nights.py SEASON RESULTS                 all cards on this machine, one after the other, each on all cores
    many_nights.py SEASON RESULTS --at-once 4     four cards at once, each on its share of the cores
    many_nights.py SEASON RESULTS --task 7        the eighth card alone, for an array job; --count says how many there are
    many_nights.py SEASON RESULTS --ray           as tasks of a Ray cluster whose machines all see both folders

What stands behind `--` goes to `dusklens night`. Whatever was stopped goes on where it was when it is started again.
"""

import argparse
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path


def cards(season):
    """The folders of the season in order of their names: the same order on every machine."""
    return sorted(folder for folder in Path(season).iterdir() if folder.is_dir())


def examine(program, card, results, jobs, further):
    """One card. Its exit code is 0 where all went well."""
    out = Path(results) / card.name
    out.mkdir(parents=True, exist_ok=True)
    command = [program, "night", str(card), "--out", str(out), "--jobs", str(jobs), *further]
    with open(out / "messages.txt", "w", encoding="utf-8") as messages:
        return subprocess.run(command, stdout=messages, stderr=messages, check=False).returncode


def on_this_machine(todo, at_once, arguments):
    """Examines cards here: what computes are other processes, so threads that wait for them are enough."""
    jobs = max(1, (os.cpu_count() or 1) // at_once)
    with ThreadPoolExecutor(at_once) as pool:
        tasks = [pool.submit(examine, arguments.program, card, arguments.results, jobs, arguments.further) for card in todo]
        return [task.result() for task in tasks]


def on_ray(todo, arguments):
    """Examines cards wherever Ray has two free cores."""
    import ray

    ray.init()
    task = ray.remote(num_cpus=2)(examine)
    waiting = [task.remote(arguments.program, card, arguments.results, 2, arguments.further) for card in todo]
    return ray.get(waiting)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("season")
    parser.add_argument("results")
    parser.add_argument("--program", default="dusklens")
    parser.add_argument("--at-once", type=int, default=1)
    parser.add_argument("--task", type=int, help="counted from 0")
    parser.add_argument("--count", action="store_true", help="print how many cards there are, and do nothing")
    parser.add_argument("--ray", action="store_true")
    own, further = sys.argv[1:], []
    if "--" in own:
        at = own.index("--")
        own, further = own[:at], own[at + 1 :]
    arguments = parser.parse_args(own)
    arguments.further = further
    todo = cards(arguments.season)
    if arguments.count:
        print(len(todo))
        return 0
    if arguments.task is not None:
        todo = todo[arguments.task : arguments.task + 1]
    codes = on_ray(todo, arguments) if arguments.ray else on_this_machine(todo, arguments.at_once, arguments)
    for card, code in zip(todo, codes):
        print(f"{card.name}: {'done' if code == 0 else f'exit code {code}, see its messages.txt'}")
    return 0 if all(code == 0 for code in codes) else 1


if __name__ == "__main__":
    sys.exit(main())
