/* The stimulus of an emulated board, from a file. */
#ifndef SCRIPT_FILE_H
#define SCRIPT_FILE_H

#include "script.h"

/* False if the file cannot be read or is not understood, with a message on standard error. */
bool script_read_file(script *script, const char *path);

#endif
