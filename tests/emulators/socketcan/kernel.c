#include "kernel.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>

/* From the entry of a call to its return; of the order of what is measured on small computers. */
#define CALL_NS 2000u
#define WAKE_NS 5000u

kernel the_kernel;

void kernel_fault(const char *text)
{
    printf("fault - %s\n", text);
}

/* ---- sockets ---- */

static bool passes(const kernel_socket *socket, canid_t id)
{
    for (unsigned i = 0; i < socket->filter_count; i++) {
        const struct can_filter *filter = &socket->filters[i];

        if ((id & filter->can_mask) == (filter->can_id & filter->can_mask)) {
            return true;
        }
    }
    return false;
}

static void deliver(kernel_socket *socket, const kernel_packet *packet)
{
    const bool error = (packet->frame.can_id & CAN_ERR_FLAG) != 0u;

    if (!socket->bound || (packet->size == CANFD_MTU && !socket->fd) ||
        (error ? (packet->frame.can_id & socket->errors) == 0u
               : !passes(socket, packet->frame.can_id)) ||
        ((packet->flags & MSG_CONFIRM) != 0 && !socket->own)) {
        return;
    }
    if (socket->inbox_count == KERNEL_INBOX) {
        kernel_fault("the program does not read its socket");
        return;
    }
    socket->inbox[(socket->inbox_first + socket->inbox_count++) % KERNEL_INBOX] = *packet;
}

static void show_frame(kernel_socket *socket, const locum_frame *frame, int flags)
{
    const bool fd = (frame->id & LOCUM_ID_FD) != 0u;
    kernel_packet packet = {.size = fd ? CANFD_MTU : CAN_MTU, .flags = flags};

    packet.frame.can_id = (frame->id & LOCUM_ID_EXTENDED) != 0u
                              ? (frame->id & CAN_EFF_MASK) | CAN_EFF_FLAG
                              : frame->id & CAN_SFF_MASK;
    packet.frame.len = frame->length;
    packet.frame.flags = (frame->id & LOCUM_ID_SWITCH_RATE) != 0u ? CANFD_BRS : 0;
    memcpy(packet.frame.data, frame->data, frame->length);
    deliver(socket, &packet);
}

static void show_error(kernel_socket *socket, canid_t class)
{
    kernel_packet packet = {.size = CAN_MTU, .frame = {.can_id = CAN_ERR_FLAG | class}};

    packet.frame.len = CAN_ERR_DLC;
    deliver(socket, &packet);
}

bool kernel_take(unsigned interface, kernel_packet *packet)
{
    kernel_socket *socket = &the_kernel.interfaces[interface].socket;

    if (socket->inbox_count == 0u) {
        return false;
    }
    *packet = socket->inbox[socket->inbox_first];
    socket->inbox_first = (socket->inbox_first + 1u) % KERNEL_INBOX;
    socket->inbox_count--;
    return true;
}

bool kernel_give(unsigned number, const struct canfd_frame *in, size_t size)
{
    kernel_interface *interface = &the_kernel.interfaces[number];
    locum_frame *frame = &interface->queue[interface->queued];

    if (interface->queued == KERNEL_QUEUE) {
        return false;
    }
    memset(frame, 0, sizeof *frame);
    frame->id = (in->can_id & CAN_EFF_FLAG) != 0u ? (in->can_id & CAN_EFF_MASK) | LOCUM_ID_EXTENDED
                                                  : in->can_id & CAN_SFF_MASK;
    if (size == CANFD_MTU) {
        frame->id |= LOCUM_ID_FD | ((in->flags & CANFD_BRS) != 0u ? LOCUM_ID_SWITCH_RATE : 0u);
    }
    frame->length = in->len;
    memcpy(frame->data, in->data, in->len);
    interface->asked_at[interface->queued++] = the_kernel.around.now;
    surroundings_advance(&the_kernel.around, the_kernel.around.now);
    return true;
}

/* ---- controllers ---- */

static int candidate(void *controller, locum_frame *frame, uint64_t *asked_at)
{
    const kernel_interface *interface = controller;

    if (interface->queued == 0u) {
        return -1;
    }
    *frame = interface->queue[0];
    *asked_at = interface->asked_at[0];
    return 0;
}

static void started(void *controller, int place)
{
    kernel_interface *interface = controller;

    (void)place;
    interface->on_wire = true;
}

static void drop_first(kernel_interface *interface)
{
    interface->on_wire = false;
    interface->queued--;
    memmove(interface->queue, interface->queue + 1, interface->queued * sizeof interface->queue[0]);
    memmove(interface->asked_at, interface->asked_at + 1,
            interface->queued * sizeof interface->asked_at[0]);
}

static void sent(void *controller, int place)
{
    kernel_interface *interface = controller;

    (void)place;
    show_frame(&interface->socket, &interface->queue[0], MSG_CONFIRM | MSG_DONTROUTE);
    drop_first(interface);
}

static void heard(void *controller, const locum_frame *frame)
{
    kernel_interface *interface = controller;

    show_frame(&interface->socket, frame, 0);
}

static bool on_bus(const void *controller)
{
    const kernel_interface *interface = controller;

    return !interface->off && !interface->recovering;
}

static unsigned awaits(const void *controller)
{
    const kernel_interface *interface = controller;

    return interface->recovering ? RECESSIVE_TO_RECOVER : 0u;
}

static void has_seen(void *controller, unsigned runs)
{
    kernel_interface *interface = controller;

    (void)runs;
    interface->recovering = false;
}

static void counts_errors(void *controller, unsigned transmit_errors)
{
    kernel_interface *interface = controller;

    if (transmit_errors > 255u) {
        interface->off = true;
        interface->restart_at = interface->restart_ns == 0u
                                    ? UINT64_MAX
                                    : the_kernel.around.now + interface->restart_ns;
        show_error(&interface->socket, CAN_ERR_BUSOFF);
    }
}

/* What the controller had is lost, what the queue has stays (drivers flush their echo buffers). */
void kernel_restart(unsigned number)
{
    kernel_interface *interface = &the_kernel.interfaces[number];

    if (!interface->off) {
        return;
    }
    if (interface->queued != 0u && !interface->on_wire) {
        surroundings_print(number, &interface->queue[0], interface->asked_at[0], NULL);
        drop_first(interface);
    }
    interface->off = false;
    interface->recovering = true;
    interface->restart_at = UINT64_MAX;
    show_error(&interface->socket, CAN_ERR_RESTARTED);
}

static const station controller_station = {candidate, started, sent,     heard,
                                           on_bus,    awaits,  has_seen, counts_errors};

/* ---- lines ---- */

static void drive_input(void *owner, unsigned input, bool level)
{
    const unsigned line = the_kernel.line_of_input[input];

    (void)owner;
    if (the_kernel.levels[line] != level) {
        the_kernel.levels[line] = level;
        for (unsigned i = 0; i < the_kernel.input_count; i++) {
            the_kernel.edges_waiting += the_kernel.inputs[i] == line && the_kernel.edges;
        }
    }
}

void kernel_attach(void)
{
    the_kernel.around.pins = (surroundings_pins){drive_input, NULL};
    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        surroundings_attach(&the_kernel.around, i, &controller_station, &the_kernel.interfaces[i]);
    }
}

void kernel_begin(void)
{
    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        memset(&the_kernel.interfaces[i].socket, 0, sizeof the_kernel.interfaces[i].socket);
    }
    the_kernel.input_count = 0;
    the_kernel.output_count = 0;
    the_kernel.edges_waiting = 0;
    the_kernel.lives = false;
    the_kernel.fed_at = UINT64_MAX;
    surroundings_advance(&the_kernel.around, the_kernel.around.now);
}

/* ---- time ---- */

static void restart_interfaces(void)
{
    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        if (the_kernel.interfaces[i].restart_at <= the_kernel.around.now) {
            kernel_restart(i);
        }
    }
}

static uint64_t next_event(void)
{
    uint64_t next = surroundings_next(&the_kernel.around);

    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        if (the_kernel.interfaces[i].restart_at < next) {
            next = the_kernel.interfaces[i].restart_at;
        }
    }
    return next;
}

static void pass(uint64_t to)
{
    locum_reset_cause cause;

    surroundings_advance(&the_kernel.around, to);
    restart_interfaces();
    if (surroundings_take_reset(&the_kernel.around, &cause)) {
        kernel_life_ends(cause);
    }
    if (the_kernel.watchdog_ns != 0u && the_kernel.fed_at != UINT64_MAX &&
        the_kernel.around.now - the_kernel.fed_at > the_kernel.watchdog_ns) {
        kernel_fault("the service manager was told nothing for too long");
        kernel_life_ends(LOCUM_RESET_WATCHDOG);
    }
    if (the_kernel.around.now >= the_kernel.around.script.end * SURROUNDINGS_NS_PER_US) {
        kernel_ends();
    }
}

void kernel_call(void)
{
    the_kernel.calls++;
    pass(the_kernel.around.now + CALL_NS);
}

void kernel_sleep(uint64_t until, bool (*ready)(void *owner), void *owner)
{
    const uint64_t from = the_kernel.around.now;

    while (!ready(owner) && the_kernel.around.now < until) {
        const uint64_t next = next_event();

        pass(next < until ? next : until);
    }
    if (the_kernel.around.now > from) {
        the_kernel.slept += the_kernel.around.now - from;
        pass(the_kernel.around.now + WAKE_NS);
    }
}

void kernel_print_rest(void)
{
    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        const kernel_interface *interface = &the_kernel.interfaces[i];

        for (unsigned k = 0; k < interface->queued; k++) {
            surroundings_print(i, &interface->queue[k], interface->asked_at[k], NULL);
        }
    }
}
