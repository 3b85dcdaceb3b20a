"""The referees as a process that answers questions line by line, for programs
that ask about many trains.

The first line written gives the versions. Every line read is a JSON object:

    text    the train file
    use     share of every coupling limit (0.7)
    with    list of referees, named as for --with
    repeat  runs of lp and of relaxed, whose times are medians (1)
    limit, gap, sides, polygon   as the options of the command

and is answered by one line, as the command does, without "file". What goes
wrong with one train is its "error" and ends nothing.
"""

import argparse
import json
import os
import platform
import statistics
import sys

import cvxopt
import numpy as np
import scipy

import model
import solve


def serve(answers):
    # Solvers written in C print to standard output as they like: it becomes
    # standard error, and answers go to what it was.
    out = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)

    def say(answer):
        out.write(json.dumps(answer) + "\n")
        out.flush()

    say({"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__, "cvxopt": cvxopt.__version__})
    for line in sys.stdin:
        try:
            reply = answer(json.loads(line), answers)
        except Exception as e:  # whatever a solver raises
            reply = {"error": f"{type(e).__name__}: {e}"}
        try:
            say(reply)
        except BrokenPipeError:
            os._exit(1)  # nobody listens any more


def answer(question, answers):
    args = argparse.Namespace(**({"use": 0.7, "repeat": 1, "limit": 20.0, "gap": 1e-6, "sides": "continuous",
                                  "polygon": 64, "moves": False} | question), with_=question["with"])
    p = model.loads(args.text)
    out = answers(p, args)
    if "relaxed" in args.with_ and args.repeat > 1:
        seconds = [out["relaxed"]["seconds"]] + [solve.relaxed(p, args.use)["seconds"] for _ in range(args.repeat - 1)]
        out["relaxed"]["seconds"] = statistics.median(seconds)
    return out
