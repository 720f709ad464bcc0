#!/usr/bin/env python3
"""Puts one fault after another into a copy of the core, and says whether the tests see it.

    mutate.py [FOLDER [WORD]]   from the firmware-protocol folder; FOLDER (a temporary one) is where it builds; WORD: only those that have it

Each mutant goes through the host tests and, where those let it live, through the fuzzer's kept inputs and 20 s of random conversations under
the witness. Exit 1 where one survives that is not named in SURVIVES with its reason.
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile

MUTANTS = [
    # the tick
    ("stepper.h", "if (gathered < INPUT_BAD_TICKS) s->bad_for[i] = ++gathered;", "if (gathered < INPUT_BAD_TICKS && bad == 1u) s->bad_for[i] = ++gathered;",
     "two bad inputs hide each other"),
    ("stepper.h", "s->good_for[i] = 0;\n            if (gathered", "if (gathered", "good is not counted anew after bad"),
    ("stepper.h", "s->bad_for[i] = 0; s->good_for[i] = 0;", "s->good_for[i] = 0;", "gathered bad is never forgotten"),
    ("stepper.h", "if (stood >= INPUT_GOOD_TICKS)", "if (stood >= INPUT_BAD_TICKS)", "good after 2 ms already"),
    ("stepper.h", "if (!loop) bad |= FAULT_WATCHDOG;", "", "a hung loop moves on"),
    ("stepper.h", "|| (open && !s->guard_holds_power)", "", "an open guard leaves the power on at standstill"),
    ("stepper.h", "s->opened = forbidden | (uint8_t)~closed;", "", "a limit that closes behind the motion is nothing"),
    ("stepper.h", "if (s->rate) forbidden |=", "if (0) forbidden |=", "a limit ahead that was reached before is nothing"),
    ("stepper.h", "if (s->keep_alive_left) s->keep_alive_left--;", "if (s->keep_alive_left && s->rate) s->keep_alive_left--;", "silence at standstill leaves the power on"),
    ("stepper.h", "s->direction > 0 ? position >= s->high :", "s->direction > 0 ? position > s->high :", "one step past the travel"),
    # the converter
    ("converter.c", "if (apart < converter.period_microseconds / 2u)", "if (0)", "conversions may come at any pace"),
    ("converter.c", "doubtful = 1;\n", ";\n", "late ones are good ones"),
    ("converter.c", "else if (converter.equal < UINT8_MAX) converter.equal++;", "", "frozen is good"),
    ("converter.c", "else if (converter.doubt) converter.doubt--;", "else converter.doubt = 0;", "one good one forgives all"),
    ("converter.c", "in_motion ? converter.silent_motion : converter.silent_still", "converter.silent_still", "dead in motion as late as at standstill"),
    ("converter.c", "if (in_motion) converter.settling = 0;", "", "blind motion in the first second"),
    ("converter.c", "converter.unsound = 1;                     /*", "/*", "alive by one conversion after a silence"),
    ("converter.c", "if (!judged) return CONVERSION_COUNTS;", "", "a fast converter is judged by counts"),
    # the force
    ("force.c", "else if (force.weight) force.weight--;", "else force.weight = 0;", "every second overload is none"),
    ("force.c", "return direction == -reached;", "return 1;", "further out of the limits"),
    ("force.c", "{ force.weight = 0; }", "{ }", "beyond the limits of before counts under those that replaced them"),
    ("force.c", "WAY_BACK_SHARE 32u", "WAY_BACK_SHARE 2u", "half of the span more on the way back"),
    # the motion
    ("motion.c", "s->phase = 0; ", "", "no set-up time for the direction"),
    ("motion.c", "if (magnitude(here - motion.opened_at)", "if (0 && magnitude(here - motion.opened_at)", "the second touch is not compared"),
    ("motion.c", "s->high = s->position + reach;", "", "off the switch without a bound"),
    ("motion.c", "|| !motion.stop_left--", "", "a ramped stop without an end"),
    ("motion.c", "if ((uint32_t)motion.rate_step < least)", "if (0)", "a ramped stop as slow as its motion was told"),
    ("motion.c", "if (motion.releasing && !motion.release_left--) { end(); return; }", "", "a release goes on when nobody holds it"),
    ("motion.c", "if (!motion.released) motion.release_from", "motion.release_from", "5 mm each time it is asked for"),
    # the rules
    ("supervisor.c", "FAULT_KEEP_ALIVE | FAULT_GUARD | FAULT_EMERGENCY_STOP | FAULT_DRIVER | FAULT_WATCHDOG)", "FAULT_KEEP_ALIVE | FAULT_GUARD | FAULT_EMERGENCY_STOP | FAULT_WATCHDOG)",
     "a driver's fault keeps power and home"),
    ("supervisor.c", "&& !now->closed_loop", "&& now->closed_loop", "home is kept over a loss of power"),
    ("supervisor.c", "wish->direction == now->last_direction ||", "", "a release on into the jam"),
    ("supervisor.c", "|| wish->speed > now->creep", "", "a fast release"),
    ("supervisor.c", "!now->last_direction ||", "", "a release without a known direction"),
    ("supervisor.c", "|| limits_reached(now) == INPUT_LIMITS", "", "home with both limits reached"),
    ("supervisor.c", "if (now->held) stays |= FAULT_WATCHDOG;", "", "held by its watchdog and cleared"),
    ("supervisor.c", "&& releases(wish) == now->releasing", "", "a motion in the middle of a release"),
    ("supervisor.c", "if (guard_open(now)) return RESULT_GUARD_OPEN;", "", "motion is taken with an open guard"),
    # traits, events, device
    ("traits.c", "&& t->force_min < t->force_max", "", "motion without hard force limits"),
    ("traits.c", "&& t->acceleration_max > 0 && t->acceleration_max <= ACCELERATION_MAX", "", "an acceleration that overflows"),
    ("events.c", "if (!++events.number) events.number = 1;", "++events.number;", "event number 0 at the wrap"),
    ("device.c", "stepper_forget_trips(); ", "", "trips are not cleared with the faults"),
    ("device.c", "if (too_much && (converter_sound() || !motion_releasing()))", "if (too_much)", "a dead converter ends a release"),
    ("commands.c", "(!newer || stepper_lives())", "!newer", "recorded keep-alives hold a motion"),
]

# What lives, and why it may.
SURVIVES = {
    "trips are not cleared with the faults": "a trip lives for a millisecond only, until the loop latches it: random conversations meet a ClearFaults in that gap in some runs and not in others",
    "a ramped stop without an end": "its ramp is over in 400 ms by itself: the 500 ms are there for who changes the ramp",
}


def run(arguments, folder, seconds=240):
    try:
        return subprocess.run(arguments, cwd=folder, capture_output=True, timeout=seconds).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def main():
    source = pathlib.Path(__file__).resolve().parent.parent
    folder = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else tempfile.mkdtemp())
    bad = 0
    print("| mutant | file | seen by |\n| --- | --- | --- |")
    chosen = [m for m in MUTANTS if len(sys.argv) < 3 or sys.argv[2] in m[3]]
    for name, old, new, what in chosen:
        shutil.rmtree(folder / "m", ignore_errors=True)
        shutil.copytree(source, folder / "m", ignore=shutil.ignore_patterns("build"))
        path = folder / "m" / "core" / name
        text = path.read_text()
        if text.count(old) != 1:
            print(f"| {what} | {name} | the text to change stands there {text.count(old)} times |")
            bad += 1
            continue
        path.write_text(text.replace(old, new))
        quick = ["HOST=-std=c11 -O1 -w -Icore -Itests -Ibuild"]
        if not run(["make", "build/host_tests", "build/fuzz_device", *quick], folder / "m"):
            seen = "the compiler"
        elif not run(["build/host_tests"], folder / "m"):
            seen = "the host tests"
        elif not run(["build/fuzz_device", "replay", "tests/seeds/corpus.hex", "tests/seeds/found.hex"], folder / "m"):
            seen = "the kept inputs under the witness"
        elif not run(["build/fuzz_device", "random", "20", "7"], folder / "m"):
            seen = "random conversations under the witness"
        elif what in SURVIVES:
            seen = f"nobody: {SURVIVES[what]}"
        else:
            seen = "**nobody**"
            bad += 1
        print(f"| {what} | {name} | {seen} |", flush=True)
    print(f"{len(chosen)} mutants, {bad} not accounted for")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
