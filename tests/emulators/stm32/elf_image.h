/* A 32-bit little-endian ARM ELF file: what is loaded where, and its symbols. */
#ifndef ELF_IMAGE_H
#define ELF_IMAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct {
    uint8_t *bytes;
    size_t size;
} elf_image;

/* False with a message on standard error. */
bool elf_image_read(elf_image *image, const char *path);

/* Calls place once per loadable part that has bytes in the file. */
bool elf_image_load(const elf_image *image, void *owner,
                    bool (*place)(void *owner, uint32_t address, const uint8_t *bytes,
                                  size_t size));

/* The value of a symbol; false if there is none of that name. */
bool elf_image_symbol(const elf_image *image, const char *name, uint32_t *value);

#endif
