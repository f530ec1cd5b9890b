/*
 * What the kernel keeps for a program: CAN interfaces with their queue, one raw socket on each, the
 * lines of a GPIO chip, and the time. After the kernel's documentation: "SocketCAN - Controller
 * Area Network" (filters, loopback with MSG_CONFIRM, error frames), "GPIO Character Device
 * Userspace API". All of it outlives the program.
 */
#ifndef KERNEL_H
#define KERNEL_H

#include <linux/can.h>
#include <linux/can/error.h>
#include <linux/can/netlink.h>
#include <linux/can/raw.h>
#include <linux/gpio.h>

#include "surroundings.h"

#define KERNEL_QUEUE 10u
#define KERNEL_INBOX 256u
#define KERNEL_FILTERS 256u
#define KERNEL_INPUTS 16u
#define KERNEL_LINES 64u
#define KERNEL_OUTPUTS 2 /* requests for output lines */

typedef struct {
    struct canfd_frame frame;
    size_t size;
    int flags; /* of recvmsg */
} kernel_packet;

/* The program's socket on an interface. */
typedef struct {
    bool open;
    bool bound;
    bool fd;
    bool own; /* gets its own frames */
    can_err_mask_t errors;
    struct can_filter filters[KERNEL_FILTERS];
    unsigned filter_count;
    kernel_packet inbox[KERNEL_INBOX];
    unsigned inbox_first;
    unsigned inbox_count;
} kernel_socket;

typedef struct {
    char name[16];
    kernel_socket socket;
    locum_frame queue[KERNEL_QUEUE]; /* the first is in the controller */
    uint64_t asked_at[KERNEL_QUEUE];
    unsigned queued;
    bool on_wire;
    bool off;            /* bus-off, not restarted */
    bool recovering;     /* restarted, counts recessive bits */
    uint64_t restart_at; /* by itself; UINT64_MAX: not */
    uint64_t restart_ns; /* restart-ms; 0: not by itself */
} kernel_interface;

typedef struct {
    surroundings around;
    kernel_interface interfaces[SURROUNDINGS_BUSES];
    unsigned line_of_input[KERNEL_INPUTS];
    bool levels[KERNEL_LINES];
    /* The request for input lines, and those for output lines. */
    uint32_t inputs[KERNEL_INPUTS];
    unsigned input_count;
    bool edges; /* wanted */
    unsigned edges_waiting;
    struct {
        uint32_t lines[KERNEL_LINES];
        unsigned count;
    } outputs[KERNEL_OUTPUTS];
    unsigned output_count;
    unsigned watched;
    int watched_level;
    uint64_t fed_at;      /* the service manager was told last; UINT64_MAX: never */
    uint64_t watchdog_ns; /* 0: nobody watches */
    uint64_t slept;
    uint64_t clock_start;
    uint64_t calls;
    bool lives; /* the program has read the clock since it began */
    bool began;
} kernel;

extern kernel the_kernel;

/* Every call takes a little time. */
void kernel_call(void);

/* Lets time pass until a moment or an event for which one of the sockets or lines is ready. */
void kernel_sleep(uint64_t until, bool (*ready)(void *owner), void *owner);

/* The program is started anew (or for the first time): nothing of it is left. */
void kernel_begin(void);

/* False: no room. */
bool kernel_give(unsigned interface, const struct canfd_frame *frame, size_t size);
/* False: nothing there. */
bool kernel_take(unsigned interface, kernel_packet *packet);
void kernel_restart(unsigned interface);

void kernel_attach(void);
void kernel_print_rest(void);
void kernel_fault(const char *text);

/* In calls.c: ends the program's life, and begins the next or ends it all. */
void kernel_life_ends(locum_reset_cause cause) __attribute__((noreturn));
void kernel_ends(void) __attribute__((noreturn));

#endif
