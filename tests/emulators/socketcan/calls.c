/*
 * The system calls of the port, answered by the model instead of the kernel. The library is loaded
 * in front of the C library (LD_PRELOAD); descriptors from FIRST_FD on are the model's.
 */
#include <errno.h>
#include <fcntl.h>
#include <linux/if_link.h>
#include <linux/rtnetlink.h>
#include <net/if.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <sys/un.h>
#include <time.h>
#include <unistd.h>

#include "kernel.h"

#define FIRST_FD 1000
#define FIRST_INDEX 5u /* of the interfaces */

enum {
    FD_CAN = FIRST_FD, /* one per interface */
    FD_NEW_CAN = FD_CAN + 100,
    FD_CHIP,
    FD_INPUTS,
    FD_OUTPUTS,
    FD_MANAGER = FD_OUTPUTS + KERNEL_OUTPUTS,
    FD_NETLINK,
    FD_END
};

#define NS_PER_SECOND 1000000000u

/* Sockets that are not bound yet: the options that they were given. */
static kernel_socket unbound[SURROUNDINGS_BUSES];
static unsigned unbound_count;
static int place_of[SURROUNDINGS_BUSES]; /* interface of the n-th socket, or -1 */

static bool is_can(int fd)
{
    return fd >= FD_CAN && fd < FD_CAN + (int)unbound_count;
}

/* The socket behind a descriptor, bound or not. */
static kernel_socket *socket_of(int fd)
{
    const int place = place_of[fd - FD_CAN];

    return place < 0 ? &unbound[fd - FD_CAN] : &the_kernel.interfaces[place].socket;
}

static int fail(int code)
{
    errno = code;
    return -1;
}

static bool is_output(unsigned line)
{
    for (unsigned group = 0; group < the_kernel.output_count; group++) {
        for (unsigned i = 0; i < the_kernel.outputs[group].count; i++) {
            if (the_kernel.outputs[group].lines[i] == line) {
                return true;
            }
        }
    }
    return false;
}

static void watch(void)
{
    const int level = the_kernel.levels[the_kernel.watched];

    if (the_kernel.watched_level != level && is_output(the_kernel.watched)) {
        the_kernel.watched_level = level;
        printf("pin GPIO%u %d %llu\n", the_kernel.watched, level,
               (unsigned long long)(the_kernel.around.now / SURROUNDINGS_NS_PER_US));
    }
}

/* ---- sockets ---- */

int socket(int domain, int type, int protocol)
{
    kernel_call();
    if (domain == AF_UNIX) {
        return FD_MANAGER;
    }
    if (domain == AF_NETLINK) {
        return FD_NETLINK;
    }
    if (domain != PF_CAN || protocol != CAN_RAW || (type & 0xF) != SOCK_RAW ||
        unbound_count == SURROUNDINGS_BUSES) {
        return fail(EAFNOSUPPORT);
    }
    if ((type & SOCK_NONBLOCK) == 0) {
        kernel_fault("a socket that blocks");
    }
    memset(&unbound[unbound_count], 0, sizeof unbound[0]);
    /* "For a new socket: everything is received" */
    unbound[unbound_count].filters[0] = (struct can_filter){0, 0};
    unbound[unbound_count].filter_count = 1;
    place_of[unbound_count] = -1;
    return FD_CAN + (int)unbound_count++;
}

unsigned if_nametoindex(const char *name)
{
    kernel_call();
    for (unsigned i = 0; i < the_kernel.around.count; i++) {
        if (strcmp(the_kernel.interfaces[i].name, name) == 0) {
            return FIRST_INDEX + i;
        }
    }
    errno = ENODEV;
    return 0;
}

int setsockopt(int fd, int level, int option, const void *value, socklen_t size)
{
    kernel_socket *socket;

    kernel_call();
    if (!is_can(fd) || level != SOL_CAN_RAW) {
        return fail(ENOPROTOOPT);
    }
    socket = socket_of(fd);
    switch (option) {
    case CAN_RAW_FILTER:
        if (size % sizeof(struct can_filter) != 0u || size > sizeof socket->filters) {
            return fail(EINVAL);
        }
        memcpy(socket->filters, value, size);
        socket->filter_count = size / sizeof(struct can_filter);
        return 0;
    case CAN_RAW_ERR_FILTER:
        memcpy(&socket->errors, value, sizeof socket->errors);
        return 0;
    case CAN_RAW_RECV_OWN_MSGS:
        socket->own = *(const int *)value != 0;
        return 0;
    case CAN_RAW_FD_FRAMES:
        socket->fd = *(const int *)value != 0;
        return 0;
    default:
        return fail(ENOPROTOOPT);
    }
}

int bind(int fd, const struct sockaddr *address, socklen_t size)
{
    const struct sockaddr_can *can = (const void *)address;
    unsigned number;

    kernel_call();
    if (!is_can(fd) || size < sizeof *can || can->can_family != AF_CAN) {
        return fail(EINVAL);
    }
    number = (unsigned)can->can_ifindex - FIRST_INDEX;
    if (number >= the_kernel.around.count) {
        return fail(ENODEV);
    }
    the_kernel.interfaces[number].socket = unbound[fd - FD_CAN];
    the_kernel.interfaces[number].socket.bound = true;
    place_of[fd - FD_CAN] = (int)number;
    return 0;
}

ssize_t write(int fd, const void *from, size_t size)
{
    const struct canfd_frame *frame = from;

    if (fd < FIRST_FD) {
        return syscall(SYS_write, fd, from, size);
    }
    kernel_call();
    if (!is_can(fd) || place_of[fd - FD_CAN] < 0) {
        return fail(ENOTCONN);
    }
    if ((size != CAN_MTU && (size != CANFD_MTU || !socket_of(fd)->fd)) ||
        frame->len > (size == CAN_MTU ? CAN_MAX_DLEN : CANFD_MAX_DLEN)) {
        return fail(EINVAL);
    }
    if (!kernel_give((unsigned)place_of[fd - FD_CAN], frame, size)) {
        return fail(ENOBUFS);
    }
    return (ssize_t)size;
}

ssize_t recvmsg(int fd, struct msghdr *message, int flags)
{
    kernel_packet packet;

    (void)flags;
    kernel_call();
    if (!is_can(fd) || place_of[fd - FD_CAN] < 0) {
        return fail(ENOTCONN);
    }
    if (!kernel_take((unsigned)place_of[fd - FD_CAN], &packet)) {
        return fail(EAGAIN);
    }
    if (message->msg_iovlen != 1u || message->msg_iov[0].iov_len < packet.size) {
        return fail(EINVAL);
    }
    memcpy(message->msg_iov[0].iov_base, &packet.frame, packet.size);
    message->msg_flags = packet.flags;
    return (ssize_t)packet.size;
}

ssize_t sendto(int fd, const void *from, size_t size, int flags, const struct sockaddr *address,
               socklen_t address_size)
{
    const struct sockaddr_un *manager = (const void *)address;
    char text[128];

    (void)flags;
    kernel_call();
    if (fd != FD_MANAGER || address_size < sizeof manager->sun_family || size >= sizeof text ||
        strncmp(manager->sun_path, getenv("NOTIFY_SOCKET"), address_size - 2u) != 0) {
        return fail(EINVAL);
    }
    memcpy(text, from, size);
    text[size] = '\0';
    if (strstr(text, "WATCHDOG=1") != NULL) {
        the_kernel.fed_at = the_kernel.around.now;
    }
    return (ssize_t)size;
}

static const struct rtattr *attribute(const struct rtattr *first, int size, unsigned short type)
{
    for (; RTA_OK(first, size); first = RTA_NEXT(first, size)) {
        if (first->rta_type == type) {
            return first;
        }
    }
    return NULL;
}

/* "ip link set NAME type can restart", as the program writes it. */
ssize_t send(int fd, const void *from, size_t size, int flags)
{
    const struct nlmsghdr *header = from;
    const struct ifinfomsg *link = NLMSG_DATA(header);
    const struct rtattr *at;

    (void)flags;
    kernel_call();
    if (fd != FD_NETLINK || size != header->nlmsg_len || header->nlmsg_type != RTM_NEWLINK ||
        (header->nlmsg_flags & NLM_F_REQUEST) == 0) {
        return fail(EINVAL);
    }
    at = attribute(IFLA_RTA(link), (int)IFLA_PAYLOAD(header), IFLA_LINKINFO);
    if (at != NULL) {
        const struct rtattr *kind = attribute(RTA_DATA(at), (int)RTA_PAYLOAD(at), IFLA_INFO_KIND);

        at = attribute(RTA_DATA(at), (int)RTA_PAYLOAD(at), IFLA_INFO_DATA);
        if (kind == NULL || strncmp(RTA_DATA(kind), "can", RTA_PAYLOAD(kind)) != 0) {
            at = NULL;
        }
    }
    if (at != NULL) {
        at = attribute(RTA_DATA(at), (int)RTA_PAYLOAD(at), IFLA_CAN_RESTART);
    }
    if (at == NULL || RTA_PAYLOAD(at) != sizeof(uint32_t)) {
        kernel_fault("a message about a link that is not understood");
    } else {
        kernel_restart((unsigned)link->ifi_index - FIRST_INDEX);
    }
    return (ssize_t)size;
}

/* ---- lines ---- */

int open(const char *path, int flags, ...)
{
    mode_t mode = 0;

    if ((flags & O_CREAT) != 0) {
        va_list arguments;

        va_start(arguments, flags);
        mode = va_arg(arguments, mode_t);
        va_end(arguments);
    }
    kernel_call();
    return strcmp(path, "/dev/gpiochip0") == 0
               ? FD_CHIP
               : (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

/* An output line is low unless its request says otherwise. */
static bool first_level(const struct gpio_v2_line_config *config, unsigned line)
{
    for (unsigned i = 0; i < config->num_attrs; i++) {
        if (config->attrs[i].attr.id == GPIO_V2_LINE_ATTR_ID_OUTPUT_VALUES &&
            (config->attrs[i].mask >> line & 1u) != 0u) {
            return (config->attrs[i].attr.values >> line & 1u) != 0u;
        }
    }
    return false;
}

static int request_lines(struct gpio_v2_line_request *request)
{
    const uint64_t flags = request->config.flags;
    const uint64_t biases = GPIO_V2_LINE_FLAG_BIAS_DISABLED | GPIO_V2_LINE_FLAG_BIAS_PULL_UP |
                            GPIO_V2_LINE_FLAG_BIAS_PULL_DOWN;

    if (request->num_lines == 0u || request->num_lines > GPIO_V2_LINES_MAX) {
        return fail(EINVAL);
    }
    if ((flags & biases & ((flags & biases) - 1u)) != 0u) {
        return fail(EINVAL); /* two biases at once */
    }
    for (unsigned i = 0; i < request->config.num_attrs; i++) {
        const struct gpio_v2_line_attribute *attribute = &request->config.attrs[i].attr;
        const uint64_t own =
            attribute->id == GPIO_V2_LINE_ATTR_ID_FLAGS ? attribute->flags & biases : 0u;

        if ((own & (own - 1u)) != 0u) {
            return fail(EINVAL); /* two biases at once */
        }
    }
    if ((flags & GPIO_V2_LINE_FLAG_INPUT) != 0u) {
        memcpy(the_kernel.inputs, request->offsets, sizeof the_kernel.inputs);
        the_kernel.input_count = request->num_lines;
        the_kernel.edges =
            (flags & GPIO_V2_LINE_FLAG_EDGE_RISING) && (flags & GPIO_V2_LINE_FLAG_EDGE_FALLING);
        request->fd = FD_INPUTS;
        return 0;
    }
    if ((flags & GPIO_V2_LINE_FLAG_OUTPUT) == 0u) {
        return fail(EINVAL);
    }
    if (the_kernel.output_count == KERNEL_OUTPUTS) {
        return fail(EBUSY);
    }
    memcpy(the_kernel.outputs[the_kernel.output_count].lines, request->offsets,
           request->num_lines * sizeof(uint32_t));
    the_kernel.outputs[the_kernel.output_count].count = request->num_lines;
    for (unsigned i = 0; i < request->num_lines; i++) {
        the_kernel.levels[request->offsets[i]] = first_level(&request->config, i);
    }
    request->fd = FD_OUTPUTS + (int)the_kernel.output_count++;
    watch();
    return 0;
}

int ioctl(int fd, unsigned long request, ...)
{
    va_list arguments;
    void *argument;

    va_start(arguments, request);
    argument = va_arg(arguments, void *);
    va_end(arguments);
    if (fd < FIRST_FD) {
        return (int)syscall(SYS_ioctl, fd, request, argument);
    }
    kernel_call();
    if (fd == FD_CHIP && request == GPIO_V2_GET_LINE_IOCTL) {
        return request_lines(argument);
    }
    if (fd == FD_INPUTS && request == GPIO_V2_LINE_GET_VALUES_IOCTL) {
        struct gpio_v2_line_values *values = argument;

        values->bits = 0;
        for (unsigned i = 0; i < the_kernel.input_count; i++) {
            values->bits |= (uint64_t)the_kernel.levels[the_kernel.inputs[i]] << i;
        }
        values->bits &= values->mask;
        return 0;
    }
    if (fd >= FD_OUTPUTS && fd < FD_OUTPUTS + (int)the_kernel.output_count &&
        request == GPIO_V2_LINE_SET_VALUES_IOCTL) {
        const struct gpio_v2_line_values *values = argument;
        const unsigned group = (unsigned)(fd - FD_OUTPUTS);

        for (unsigned i = 0; i < the_kernel.outputs[group].count; i++) {
            if ((values->mask >> i & 1u) != 0u) {
                the_kernel.levels[the_kernel.outputs[group].lines[i]] =
                    (values->bits >> i & 1u) != 0u;
            }
        }
        watch();
        return 0;
    }
    return fail(ENOTTY);
}

int fcntl(int fd, int command, ...)
{
    (void)command;
    return fd >= FIRST_FD ? 0 : fail(EBADF);
}

ssize_t read(int fd, void *to, size_t size)
{
    const size_t one = sizeof(struct gpio_v2_line_event);
    unsigned count;

    if (fd < FIRST_FD) {
        return syscall(SYS_read, fd, to, size);
    }
    kernel_call();
    if (fd != FD_INPUTS || the_kernel.edges_waiting == 0u) {
        return fail(EAGAIN);
    }
    count = (unsigned)(size / one) < the_kernel.edges_waiting ? (unsigned)(size / one)
                                                              : the_kernel.edges_waiting;
    the_kernel.edges_waiting -= count;
    memset(to, 0, count * one);
    return (ssize_t)(count * one);
}

int close(int fd)
{
    return fd >= FIRST_FD ? 0 : (int)syscall(SYS_close, fd);
}

/* ---- time ---- */

typedef struct {
    struct pollfd *polls;
    nfds_t count;
} poll_set;

static bool is_ready(void *owner)
{
    const poll_set *set = owner;
    bool any = false;

    for (nfds_t i = 0; i < set->count; i++) {
        struct pollfd *poll = &set->polls[i];

        poll->revents = 0;
        if ((is_can(poll->fd) && socket_of(poll->fd)->inbox_count != 0u) ||
            (poll->fd == FD_INPUTS && the_kernel.edges_waiting != 0u)) {
            poll->revents = poll->events & POLLIN;
        }
        any = any || poll->revents != 0;
    }
    return any;
}

int ppoll(struct pollfd *polls, nfds_t count, const struct timespec *timeout,
          const sigset_t *signals)
{
    poll_set set = {polls, count};

    (void)signals;
    kernel_call();
    kernel_sleep(the_kernel.around.now + (uint64_t)timeout->tv_sec * NS_PER_SECOND +
                     (uint64_t)timeout->tv_nsec,
                 is_ready, &set);
    return is_ready(&set) ? 1 : 0;
}

int clock_gettime(clockid_t clock, struct timespec *time)
{
    /* Does not enter the kernel; a tenth of a call. */
    static unsigned reads;

    if (clock != CLOCK_MONOTONIC) {
        kernel_fault("a clock that may be set");
    }
    if (!the_kernel.lives) {
        the_kernel.lives = true;
        printf("life %.3f\n", (double)the_kernel.around.now / SURROUNDINGS_NS_PER_US);
        if (!the_kernel.began) {
            the_kernel.clock_start = the_kernel.around.now;
            the_kernel.began = true;
        }
    } else if (++reads % 10u == 0u) {
        kernel_call();
    }
    time->tv_sec = (time_t)(the_kernel.around.now / NS_PER_SECOND);
    time->tv_nsec = (long)(the_kernel.around.now % NS_PER_SECOND);
    return 0;
}

int mlockall(int flags)
{
    (void)flags;
    return 0;
}

int prctl(int option, ...)
{
    (void)option;
    return 0;
}

/* ---- lives ---- */

static int state_fd(void)
{
    return atoi(getenv("LOCUM_STUB"));
}

static void save(void)
{
    (void)pwrite(state_fd(), &the_kernel, sizeof the_kernel, 0);
}

void kernel_life_ends(locum_reset_cause cause)
{
    char *const arguments[] = {getenv("LOCUM_STUB_PROGRAM"), NULL};

    printf("reset %llu\n", (unsigned long long)(the_kernel.around.now / SURROUNDINGS_NS_PER_US));
    if (cause == LOCUM_RESET_POWER) {
        char path[512];

        snprintf(path, sizeof path, "%s/kept", getenv("RUNTIME_DIRECTORY"));
        (void)unlink(path);
    }
    fflush(stdout);
    save();
    (void)execv(arguments[0], arguments);
    _exit(3);
}

void kernel_ends(void)
{
    const uint64_t total = the_kernel.around.now - the_kernel.clock_start;

    kernel_print_rest();
    printf("measure clock_start_us %.3f\n",
           (double)the_kernel.clock_start / SURROUNDINGS_NS_PER_US);
    printf("measure sleep_share %.4f\n", (double)the_kernel.slept / (double)total);
    printf("measure frames_heard %llu\n", (unsigned long long)the_kernel.around.heard);
    printf("measure calls %llu\n", (unsigned long long)the_kernel.calls);
    fflush(stdout);
    _exit(0);
}

__attribute__((constructor)) static void begin(void)
{
    if (getenv("LOCUM_STUB") == NULL ||
        pread(state_fd(), &the_kernel, sizeof the_kernel, 0) != (ssize_t)sizeof the_kernel) {
        fprintf(stderr, "run it through socketcan_board\n");
        _exit(2);
    }
    kernel_attach();
    kernel_begin();
}
