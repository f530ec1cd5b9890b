/*
 * Resets: a program starts anew with every variable at its first value, while the world around the
 * board goes on. Each life but the last runs in a process of its own and hands the world on.
 */
#ifndef LIVES_H
#define LIVES_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Call before anything of the firmware has run. False in the process that is to live the next life
 * up to its reset and then call lives_end. True when that life is over and world holds what it
 * left.
 */
bool lives_begin(void *world, size_t size);

/* Hands the world on to the next life. Does not return. */
void lives_end(const void *world, size_t size);

#endif
