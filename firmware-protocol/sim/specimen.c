#include "board.h"

static struct { double stiffness, slack, break_force, peak, weight; long origin; int held, broken; } specimen;

void specimen_load(double stiffness, double slack, double break_force)
{
    specimen.stiffness = stiffness;
    specimen.slack = slack;
    specimen.break_force = break_force;
    specimen.origin = motor.position;
    specimen.peak = 0;
    specimen.broken = 0;
    specimen.held = stiffness > 0;
}

void specimen_weight(double newtons) { specimen.weight = newtons; }

double specimen_force(void)
{
    double force = 0;
    if (specimen.held && !specimen.broken) {
        double apart = (double)(motor.position - specimen.origin) / STEPS_PER_MILLIMETRE - specimen.slack;
        if (apart > 0) force = specimen.stiffness * apart;
        if (force >= specimen.break_force) { specimen.broken = 1; force = 0; }
        if (force > specimen.peak) specimen.peak = force;
    }
    return force + specimen.weight;
}

double specimen_peak(void)   { return specimen.peak; }
int    specimen_broken(void) { return specimen.broken; }
