/*
 * Raw CAN sockets (kernel documentation, "SocketCAN - Controller Area Network").
 *
 * The kernel sends what it was given in order of arrival and gives nothing back. So it gets one
 * frame of a bus at a time; it loops back what has left (CAN_RAW_RECV_OWN_MSGS), marked with
 * MSG_CONFIRM, and then gets the next one.
 */
#include "board_parts.h"

#include <errno.h>
#include <linux/can.h>
#include <linux/can/error.h>
#include <linux/can/raw.h>
#include <net/if.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include "mailboxes.h"

#define READS_AT_ONCE 64u

typedef struct {
    const char *interface;
    const struct can_filter *filters;
    size_t filter_count;
    bool fd; /* the bus carries CAN FD */
} can_settings;

typedef struct {
    mailboxes boxes;
    int socket;
    unsigned index; /* of the interface */
    bool stuck;     /* the last frame could not be handed over */
    bool off;
} can_state;

#define FILTER(id, mask) {(id), (mask)},
#define FILTERS(bus, interface, fd, filters)                                                       \
    static const struct can_filter filters_##bus[] = {filters(FILTER)};
#define SETTINGS(bus, interface, fd, filters)                                                      \
    {interface, filters_##bus, sizeof filters_##bus / sizeof filters_##bus[0], fd},

BOARD_BUSES(FILTERS)

static const can_settings settings[BOARD_BUS_COUNT] = {BOARD_BUSES(SETTINGS)};
static can_state states[BOARD_BUS_COUNT];

#if LOCUM_LISTENS
#define INBOX 64u

/* Received in the last service; the core takes all of it in the step that follows. */
static locum_frame inbox[INBOX];
static size_t inbox_first;
static size_t inbox_count;

static void hear(const locum_frame *frame)
{
    if (inbox_count != INBOX) {
        inbox[(inbox_first + inbox_count++) % INBOX] = *frame;
    }
}

bool can_receive(locum_frame *frame)
{
    if (inbox_count == 0u) {
        return false;
    }
    *frame = inbox[inbox_first];
    inbox_first = (inbox_first + 1u) % INBOX;
    inbox_count--;
    return true;
}

static bool has_room(void)
{
    return inbox_count != INBOX;
}
#else
static void hear(const locum_frame *frame)
{
    (void)frame;
}

static bool has_room(void)
{
    return true;
}
#endif

static void set_option(int socket, int option, const void *value, size_t size)
{
    if (setsockopt(socket, SOL_CAN_RAW, option, value, (socklen_t)size) != 0) {
        board_fail("CAN socket option");
    }
}

static void open_bus(uint8_t bus)
{
    const can_settings *const wanted = &settings[bus];
    can_state *const state = &states[bus];
    const can_err_mask_t errors = CAN_ERR_BUSOFF | CAN_ERR_RESTARTED;
    const int on = 1;
    struct sockaddr_can address = {.can_family = AF_CAN};

    state->index = if_nametoindex(wanted->interface);
    if (state->index == 0u) {
        board_fail(wanted->interface);
    }
    state->socket = socket(PF_CAN, SOCK_RAW | SOCK_NONBLOCK | SOCK_CLOEXEC, CAN_RAW);
    if (state->socket < 0) {
        board_fail("CAN socket");
    }
    set_option(state->socket, CAN_RAW_FILTER, wanted->filters,
               wanted->filter_count * sizeof wanted->filters[0]);
    set_option(state->socket, CAN_RAW_ERR_FILTER, &errors, sizeof errors);
    set_option(state->socket, CAN_RAW_RECV_OWN_MSGS, &on, sizeof on);
    if (wanted->fd) {
        set_option(state->socket, CAN_RAW_FD_FRAMES, &on, sizeof on);
    }
    address.can_ifindex = (int)state->index;
    if (bind(state->socket, (const struct sockaddr *)&address, sizeof address) != 0) {
        board_fail(wanted->interface);
    }
}

void can_start(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        open_bus(bus);
    }
}

static canid_t kernel_id(uint32_t id)
{
    return (id & LOCUM_ID_EXTENDED) != 0u ? (id & CAN_EFF_MASK) | CAN_EFF_FLAG : id & CAN_SFF_MASK;
}

/* False: the kernel has no room, or the interface is down. */
static bool give(int socket, const locum_frame *frame)
{
    const bool fd = (frame->id & LOCUM_ID_FD) != 0u;
    struct canfd_frame out = {.can_id = kernel_id(frame->id), .len = frame->length};
    const size_t size = fd ? CANFD_MTU : CAN_MTU;

    if (fd && (frame->id & LOCUM_ID_SWITCH_RATE) != 0u) {
        out.flags = CANFD_BRS;
    }
    memcpy(out.data, frame->data, frame->length);
    return write(socket, &out, size) == (ssize_t)size;
}

static void hand_over(can_state *state)
{
    const locum_frame *const frame = mailboxes_next(&state->boxes);

    state->stuck = false;
    if (frame == NULL || state->off) {
        return;
    }
    if (give(state->socket, frame)) {
        mailboxes_hand_over(&state->boxes, frame);
    } else {
        state->stuck = true;
    }
}

bool can_send(const locum_frame *frame)
{
    can_state *const state = &states[frame->bus];

    if (!mailboxes_put(&state->boxes, frame)) {
        return false;
    }
    hand_over(state);
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    return mailboxes_hold(&states[bus].boxes, id);
}
#endif

/* A controller that is restarted has lost what was in it. */
static void take_error(can_state *state, canid_t id)
{
    if ((id & CAN_ERR_BUSOFF) != 0u) {
        state->off = true;
    }
    if ((id & CAN_ERR_RESTARTED) != 0u) {
        state->off = false;
        mailboxes_lost(&state->boxes);
    }
}

static void take(uint8_t bus, const struct canfd_frame *in, size_t size, int flags)
{
    can_state *const state = &states[bus];
    locum_frame frame = {.bus = bus, .length = in->len};

    if ((in->can_id & CAN_ERR_FLAG) != 0u) {
        take_error(state, in->can_id);
        return;
    }
    if ((flags & MSG_CONFIRM) != 0) {
        mailboxes_sent(&state->boxes);
        return;
    }
    if ((in->can_id & CAN_RTR_FLAG) != 0u || in->len > LOCUM_MAX_LENGTH) {
        return;
    }
    frame.id = (in->can_id & CAN_EFF_FLAG) != 0u ? (in->can_id & CAN_EFF_MASK) | LOCUM_ID_EXTENDED
                                                 : in->can_id & CAN_SFF_MASK;
    if (size == CANFD_MTU) {
        frame.id |= LOCUM_ID_FD | ((in->flags & CANFD_BRS) != 0u ? LOCUM_ID_SWITCH_RATE : 0u);
    }
    memcpy(frame.data, in->data, in->len);
    hear(&frame);
}

/* False: nothing more to read. */
static bool read_one(uint8_t bus)
{
    struct canfd_frame in;
    struct iovec part = {&in, sizeof in};
    struct msghdr message = {.msg_iov = &part, .msg_iovlen = 1};
    const ssize_t size = recvmsg(states[bus].socket, &message, 0);

    if (size == (ssize_t)CAN_MTU || size == (ssize_t)CANFD_MTU) {
        take(bus, &in, (size_t)size, message.msg_flags);
        return true;
    }
    if (size < 0 && errno == ENETDOWN) {
        mailboxes_lost(&states[bus].boxes); /* the interface went down with what was in it */
        states[bus].stuck = true;
    } else if (size < 0 && errno != EAGAIN && errno != EINTR) {
        board_fail(settings[bus].interface); /* unplugged */
    }
    return false;
}

void can_poll(struct pollfd *polls)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        polls[bus] = (struct pollfd){.fd = states[bus].socket, .events = POLLIN};
    }
}

void can_serve(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        unsigned left = READS_AT_ONCE;

        while (left-- != 0u && has_room() && read_one(bus)) {
        }
        hand_over(&states[bus]);
    }
}

bool can_is_stuck(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (states[bus].stuck) {
            return true;
        }
    }
    return false;
}

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    mailboxes_withdraw(&states[bus].boxes);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool can_is_off(uint8_t bus)
{
    return states[bus].off;
}

void can_restart(uint8_t bus)
{
    can_restart_interface(states[bus].index);
}
#endif
