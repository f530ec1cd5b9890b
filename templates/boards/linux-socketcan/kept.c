/*
 * What guards keep over a restart of the program: a file in memory that lasts until the computer
 * is switched off or boots.
 */
#include "board_parts.h"

#if LOCUM_GUARD_KEEP

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define LONGEST_PATH 256

static int file = -1;
static locum_kept saved;

bool kept_load(void)
{
    const char *folder = getenv("RUNTIME_DIRECTORY"); /* from the service manager */
    char path[LONGEST_PATH];
    bool found;

    (void)snprintf(path, sizeof path, "%s/kept", folder != NULL ? folder : BOARD_RUN_FOLDER);
    file = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (file < 0) {
        board_fail(path);
    }
    found = pread(file, &saved, sizeof saved, 0) == (ssize_t)sizeof saved;
    if (found) {
        locum_kept_over_reset = saved;
    }
    return found;
}

void kept_save(void)
{
    if (memcmp(&saved, &locum_kept_over_reset, sizeof saved) == 0) {
        return;
    }
    saved = locum_kept_over_reset;
    if (pwrite(file, &saved, sizeof saved, 0) != (ssize_t)sizeof saved) {
        board_fail("file of what is kept");
    }
}

#endif
