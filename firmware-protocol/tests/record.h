#ifndef RECORD_H
#define RECORD_H
#include <stdint.h>

/* Writes what the bench does as inputs of the fuzzer, one a line, into the file that the environment's RIG_RECORD names; else nothing. */
void record_start(void);                       /* a device was started: a new input */
void record_world(void);                       /* before time goes on or bytes come: what has changed by hand */
void record_run(unsigned milliseconds);
void record_send(const uint8_t *payload, unsigned length);
void record_end(void);
#endif
