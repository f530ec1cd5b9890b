/* Findings of the emulated board, one line each: "fault BUS TEXT", BUS "-" for the board itself. */
#ifndef REPORT_H
#define REPORT_H

#include <stdbool.h>

/* Prints a finding once, however often it is made. */
void report_fault(const char *bus, const char *format, ...) __attribute__((format(printf, 2, 3)));

bool report_any(void);

#endif
