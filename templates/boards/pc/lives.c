#if !defined(_WIN32) && !defined(_POSIX_C_SOURCE)
#define _POSIX_C_SOURCE 200809L
#endif

#include "lives.h"

#include <stdio.h>
#include <stdlib.h>

static void fail(const char *what)
{
    fprintf(stderr, "reset: %s\n", what);
    exit(3);
}

#if defined(_WIN32)

bool lives_begin(void *world, size_t size)
{
    (void)world;
    (void)size;
    fail("not possible on this system");
    return false;
}

void lives_end(const void *world, size_t size)
{
    (void)world;
    (void)size;
}

#else

#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

static int ends[2];

bool lives_begin(void *world, size_t size)
{
    unsigned char *place = world;
    size_t got = 0;
    int status = 0;
    pid_t child;

    fflush(stdout);
    if (pipe(ends) != 0 || (child = fork()) < 0) {
        fail("no process for the next life");
        return false;
    }
    if (child == 0) {
        (void)close(ends[0]);
        return false;
    }
    (void)close(ends[1]);
    while (got < size) {
        const ssize_t count = read(ends[0], place + got, size - got);

        if (count <= 0) {
            break;
        }
        got += (size_t)count;
    }
    (void)close(ends[0]);
    if (waitpid(child, &status, 0) != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0 ||
        got != size) {
        fail("the life before did not end well");
    }
    return true;
}

void lives_end(const void *world, size_t size)
{
    const unsigned char *place = world;
    size_t put = 0;

    fflush(stdout);
    while (put < size) {
        const ssize_t count = write(ends[1], place + put, size - put);

        if (count <= 0) {
            fail("the world cannot be handed on");
        }
        put += (size_t)count;
    }
    exit(0);
}

#endif
