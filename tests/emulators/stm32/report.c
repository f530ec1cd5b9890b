#include "report.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define MAX_FAULTS 32
#define MAX_TEXT 160

static char faults[MAX_FAULTS][MAX_TEXT];
static int count;

void report_fault(const char *bus, const char *format, ...)
{
    char text[MAX_TEXT];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    for (int i = 0; i < count; i++) {
        if (strcmp(faults[i], text) == 0) {
            return;
        }
    }
    if (count < MAX_FAULTS) {
        strcpy(faults[count++], text);
        printf("fault %s %s\n", bus, text);
    }
}

bool report_any(void)
{
    return count != 0;
}
