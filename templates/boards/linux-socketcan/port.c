#include "board_parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <time.h>

/* Longest wait: keeps the service manager content and the LED flashing. */
#define SLICE_US 50000u
/* How often a frame is offered again that the kernel did not take. */
#define RETRY_US 1000u
/* A reason for silence: in 16 parts of a quarter of a second each, so many flashes, then dark. */
#define CODE_PART(now_us) (((now_us) >> 18) & 15u)

#define NS_PER_US 1000u
#define US_PER_SECOND 1000000u

static uint64_t started_us;
#if LOCUM_GUARDS
static uint8_t silence;
#endif
#if LOCUM_GUARD_KEEP
static bool was_restarted;
#endif

void board_fail(const char *what)
{
    perror(what);
    exit(EXIT_FAILURE);
}

static uint64_t monotonic_us(void)
{
    struct timespec time;

    (void)clock_gettime(CLOCK_MONOTONIC, &time);
    return (uint64_t)time.tv_sec * US_PER_SECOND + (uint64_t)time.tv_nsec / NS_PER_US;
}

void locum_port_init(void)
{
    /* Waits that end when they should. Without the rights for it the program still runs, later. */
    (void)mlockall(MCL_CURRENT | MCL_FUTURE);
    (void)prctl(PR_SET_TIMERSLACK, 1ul);
#if LOCUM_GUARD_KEEP
    was_restarted = kept_load();
#endif
    lines_start();
    lines_light(true);
    can_start();
    notify_start();
    started_us = monotonic_us();
}

uint32_t locum_port_now_us(void)
{
    return (uint32_t)(monotonic_us() - started_us);
}

locum_input_set locum_port_inputs(void)
{
    return lines_read();
}

#if LOCUM_OUTPUTS
void locum_port_outputs(locum_output_set levels)
{
    lines_put(levels);
}
#endif

bool locum_port_send(const locum_frame *frame)
{
    return can_send(frame);
}

#if LOCUM_LISTENS
bool locum_port_receive(locum_frame *frame)
{
    return can_receive(frame);
}
#endif

#if LOCUM_WATCHES_LEAVING
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return can_waits(bus, id);
}
#endif

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    can_withdraw(bus);
}

void locum_port_led(uint8_t code)
{
    silence = code;
    notify_silence(code);
    (void)fprintf(stderr, code == LOCUM_TALKS ? "sending\n" : "silent for reason %u\n",
                  (unsigned)code);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return can_is_off(bus);
}

void locum_port_restart(uint8_t bus)
{
    can_restart(bus);
}
#endif

#if LOCUM_GUARD_KEEP
/* The file of what is kept lasts as long as the computer has power and does not boot. */
locum_reset_cause locum_port_reset_cause(void)
{
    return was_restarted ? LOCUM_RESET_WATCHDOG : LOCUM_RESET_POWER;
}
#endif

static void show(uint32_t now_us)
{
#if LOCUM_GUARDS
    if (silence != LOCUM_TALKS) {
        const uint32_t part = CODE_PART(now_us);

        lines_light((part & 1u) == 0u && part < 2u * silence);
        return;
    }
#endif
    (void)now_us;
    lines_light(true);
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    struct pollfd polls[BOARD_BUS_COUNT + 1u];
    const uint32_t now_us = locum_port_now_us();
    uint32_t wait_us = can_is_stuck() ? RETRY_US : SLICE_US;
    struct timespec timeout;

    (void)wants_room; /* what leaves a bus always ends the wait */
    if (has_due && (int32_t)(due_us - now_us) < (int32_t)wait_us) {
        wait_us = (int32_t)(due_us - now_us) > 0 ? due_us - now_us : 0u;
    }
#if LOCUM_GUARD_KEEP
    kept_save();
#endif
    notify_alive(now_us);
    show(now_us);
    can_poll(polls);
    lines_poll(&polls[BOARD_BUS_COUNT]);
    timeout = (struct timespec){.tv_nsec = (long)(wait_us * NS_PER_US)};
    (void)ppoll(polls, BOARD_BUS_COUNT + 1u, &timeout, NULL);
    can_serve();
}
