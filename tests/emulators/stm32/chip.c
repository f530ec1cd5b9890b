#include "chip.h"

#include <string.h>

const chip *chip_find(const char *name)
{
    static const chip *const chips[] = {&chip_f103, &chip_f105, &chip_f405, &chip_f446,
                                        &chip_g0b1, &chip_g431, &chip_g474, &chip_h743};

    for (unsigned i = 0; i < sizeof chips / sizeof chips[0]; i++) {
        if (strcmp(chips[i]->name, name) == 0) {
            return chips[i];
        }
    }
    return NULL;
}
