/*
 * What instructions cost on a Cortex-M3, in cycles, after the instruction timing table of its
 * technical reference manual (from memory). An approximation: loads and stores are not pipelined,
 * a division takes the middle of its range, every branch that is taken refills from the flash.
 * The other cores are counted alike: a Cortex-M0+ and M4 need nearly as many cycles, an M7 fewer.
 */
#ifndef COST_H
#define COST_H

#include <stddef.h>
#include <stdint.h>

/* Of a run of Thumb instructions without a branch taken. */
unsigned cost_of_block(const uint8_t *code, size_t size);

/* Of a jump to another place: pipeline refill and the wait states of the first fetch. */
unsigned cost_of_jump(unsigned wait_states);

/* Of one access to a device, beyond the load or store: the bridge from the core's bus. */
unsigned cost_of_device(uint32_t core_hz, uint32_t bus_hz);

#endif
