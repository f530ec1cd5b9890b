/* The service manager's notification socket (manual page sd_notify(3), "Notes"). */
#include "board_parts.h"

#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>

#define ALIVE_US 500000u

static int manager = -1;
static struct sockaddr_un address = {.sun_family = AF_UNIX};
static socklen_t address_size;
static uint32_t told_us;

static void tell(const char *text)
{
    if (manager >= 0) {
        (void)sendto(manager, text, strlen(text), MSG_DONTWAIT, (const struct sockaddr *)&address,
                     address_size);
    }
}

void notify_start(void)
{
    const char *const path = getenv("NOTIFY_SOCKET");
    const size_t length = path != NULL ? strlen(path) : 0;

    if (length == 0u || length >= sizeof address.sun_path) {
        return;
    }
    memcpy(address.sun_path, path, length);
    if (path[0] == '@') {
        address.sun_path[0] = '\0'; /* an abstract name */
    }
    address_size = (socklen_t)(offsetof(struct sockaddr_un, sun_path) + length);
    manager = socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    tell("READY=1\nWATCHDOG=1");
}

void notify_alive(uint32_t now_us)
{
    if (now_us - told_us >= ALIVE_US) {
        told_us = now_us;
        tell("WATCHDOG=1");
    }
}

void notify_silence(uint8_t code)
{
    char text[32];

    (void)snprintf(text, sizeof text, "STATUS=silent for reason %u", (unsigned)code);
    tell(code == 0u ? "STATUS=sending" : text);
}
