#ifndef RIG_SERIAL_H
#define RIG_SERIAL_H
#include <stdint.h>
void    serial_start(void);
uint8_t serial_take(uint8_t *byte);            /* 0: none has come */
void    serial_pass_on(void);                  /* to the line what it takes now */
#endif
