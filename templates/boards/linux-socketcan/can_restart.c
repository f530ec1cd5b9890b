/* "ip link set canX type can restart", as a message to the kernel's routing socket. */
#include "board_parts.h"

#if LOCUM_GUARD_BUS_OFF

#include <linux/can/netlink.h>
#include <linux/if_link.h>
#include <linux/rtnetlink.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#define ROOM 128u

typedef struct {
    struct nlmsghdr header;
    struct ifinfomsg link;
    uint8_t attributes[ROOM];
} restart_message;

/* Appends an attribute; without data it is one that others nest in. Returns its place. */
static struct rtattr *append(restart_message *message, unsigned short type, const void *data,
                             size_t size)
{
    struct rtattr *const attribute =
        (struct rtattr *)(void *)((uint8_t *)message + NLMSG_ALIGN(message->header.nlmsg_len));

    attribute->rta_type = type;
    attribute->rta_len = (unsigned short)RTA_LENGTH(size);
    if (size != 0u) {
        memcpy(RTA_DATA(attribute), data, size);
    }
    message->header.nlmsg_len =
        (uint32_t)(NLMSG_ALIGN(message->header.nlmsg_len) + RTA_ALIGN(attribute->rta_len));
    return attribute;
}

static void close_nest(const restart_message *message, struct rtattr *nest)
{
    nest->rta_len = (unsigned short)(message->header.nlmsg_len -
                                     (size_t)((uint8_t *)nest - (uint8_t *)message));
}

void can_restart_interface(unsigned index)
{
    static const char kind[] = "can";
    const uint32_t restart = 1;
    restart_message message = {
        .header = {.nlmsg_len = NLMSG_LENGTH(sizeof(struct ifinfomsg)),
                   .nlmsg_type = RTM_NEWLINK,
                   .nlmsg_flags = NLM_F_REQUEST},
        .link = {.ifi_family = AF_UNSPEC, .ifi_index = (int)index},
    };
    struct rtattr *const info = append(&message, IFLA_LINKINFO, NULL, 0);
    struct rtattr *data;
    const int link = socket(AF_NETLINK, SOCK_RAW | SOCK_CLOEXEC, NETLINK_ROUTE);

    (void)append(&message, IFLA_INFO_KIND, kind, sizeof kind - 1u);
    data = append(&message, IFLA_INFO_DATA, NULL, 0);
    (void)append(&message, IFLA_CAN_RESTART, &restart, sizeof restart);
    close_nest(&message, data);
    close_nest(&message, info);
    if (link < 0 || send(link, &message, message.header.nlmsg_len, 0) < 0) {
        board_fail("restart of a CAN interface");
    }
    (void)close(link);
}

#endif
