#include "script_file.h"

bool script_read_file(script *script, const char *path)
{
    FILE *file = fopen(path, "r");
    bool good;

    if (file == NULL) {
        fprintf(stderr, "script cannot be read: %s\n", path);
        return false;
    }
    good = script_read(script, file);
    fclose(file);
    return good;
}
