/* A device that only measures, built without motion.c and force.c (RIG_MEASURES_ONLY): it links, streams, and moves nothing. */
#include "bench.h"

int main(void)
{
    bench_test = "measuring";
    bench_traits.capabilities = 0;
    bench_start();
    CHECK_EQUAL(0, device.faults);
    CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_limits(7, -50000, 1000000, -400, 40000));
    CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_move(MOVE_BY_SPEED, 100, 0));
    CHECK_EQUAL(RESULT_NOT_CAPABLE, bench_home(100));
    CHECK_EQUAL(RESULT_DONE, bench_stop(1));
    CHECK_EQUAL(RESULT_DONE, bench_stream(1));
    bench_run(1000);
    unsigned samples = 0;
    for (unsigned i = 0; i < bench.count; i++) if (bench.frames[i].bytes[0] == MSG_SAMPLES) samples += bench.frames[i].bytes[33];
    CHECK(samples >= 75);
    bench.conversion_every = 0;
    bench_run(200);
    CHECK_EQUAL(FAULT_CONVERTER, device.faults);
    CHECK_EQUAL(0, bench.steps);
    CHECK_EQUAL(0, bench.powered);
    printf("ok measuring: %u checks\n", bench_checks);
    return 0;
}
