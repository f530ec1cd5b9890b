/* Compiled with the program's settings. */
#include <stddef.h>

#include "locum_core.h"

extern void *const model_kept;
extern const size_t model_kept_size;

#if LOCUM_GUARD_KEEP
void *const model_kept = &locum_kept_over_reset;
const size_t model_kept_size = sizeof(locum_kept);
#else
void *const model_kept = NULL;
const size_t model_kept_size = 0;
#endif
