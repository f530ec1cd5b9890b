/* Entry of a bare-metal board: step, sleep until the next reason to step, forever. */
#include "locum_core.h"
#include "locum_port.h"
#include "locum_tables.h"

static locum_core core;

int main(void)
{
    uint32_t now_us;

    locum_port_init();
    now_us = locum_port_now_us();
    locum_start(&core, &locum_this_board, now_us);
    for (;;) {
        uint32_t due_us = 0;
        bool has_due;

        locum_step(&core, now_us, locum_port_inputs());
        has_due = locum_next_due(&core, &due_us);
        locum_port_wait(has_due, due_us, locum_waits_for_room(&core));
        now_us = locum_port_now_us();
    }
}
