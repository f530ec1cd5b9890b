/* One bus of the world and the controller on it. For world.c. */
#ifndef WORLD_BUS_H
#define WORLD_BUS_H

#include "world.h"

/* What happens on a bus at a moment: a frame ends, buffers fill and empty, the controller takes
 * part or not, the next frame starts. Prints the frames of the board that ended or never will. */
void world_bus_happen(world *world, unsigned bus, uint64_t now);

/* The controller hears a frame, or a request for one. */
void world_bus_hear(world *world, unsigned bus, const locum_frame *frame, bool remote);

#endif
