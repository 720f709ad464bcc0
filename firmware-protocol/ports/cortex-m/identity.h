#ifndef RIG_IDENTITY_H
#define RIG_IDENTITY_H
#include <stdint.h>
uint64_t identity_device(void);
uint32_t identity_boot(void);                  /* once a start: another one each time, never 0 */
#endif
