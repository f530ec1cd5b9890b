#include "elf_image.h"

#include <elf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A part of the file, or null if the file is too short for it. */
static const void *part(const elf_image *image, size_t offset, size_t size)
{
    return offset <= image->size && size <= image->size - offset ? image->bytes + offset : NULL;
}

static bool read_whole(elf_image *image, FILE *file)
{
    long size;

    if (fseek(file, 0, SEEK_END) != 0 || (size = ftell(file)) <= 0 ||
        fseek(file, 0, SEEK_SET) != 0) {
        return false;
    }
    image->size = (size_t)size;
    image->bytes = malloc(image->size);
    return image->bytes != NULL && fread(image->bytes, 1, image->size, file) == image->size;
}

bool elf_image_read(elf_image *image, const char *path)
{
    FILE *file = fopen(path, "rb");
    const Elf32_Ehdr *header;
    bool good;

    if (file == NULL) {
        fprintf(stderr, "firmware cannot be read: %s\n", path);
        return false;
    }
    good = read_whole(image, file);
    fclose(file);
    header = good ? part(image, 0, sizeof *header) : NULL;
    if (header == NULL || memcmp(header->e_ident, ELFMAG, SELFMAG) != 0 ||
        header->e_ident[EI_CLASS] != ELFCLASS32 || header->e_machine != EM_ARM) {
        fprintf(stderr, "firmware is not an ARM ELF file: %s\n", path);
        return false;
    }
    return true;
}

bool elf_image_load(const elf_image *image, void *owner,
                    bool (*place)(void *owner, uint32_t address, const uint8_t *bytes, size_t size))
{
    const Elf32_Ehdr *header = part(image, 0, sizeof *header);

    for (unsigned i = 0; i < header->e_phnum; i++) {
        const Elf32_Phdr *segment =
            part(image, header->e_phoff + i * sizeof *segment, sizeof *segment);
        const uint8_t *bytes;

        if (segment == NULL) {
            return false;
        }
        if (segment->p_type != PT_LOAD || segment->p_filesz == 0u) {
            continue;
        }
        bytes = part(image, segment->p_offset, segment->p_filesz);
        if (bytes == NULL || !place(owner, segment->p_paddr, bytes, segment->p_filesz)) {
            return false;
        }
    }
    return true;
}

static bool find_in(const elf_image *image, const Elf32_Shdr *table, const Elf32_Shdr *names,
                    const char *name, uint32_t *value)
{
    for (size_t at = 0; at + sizeof(Elf32_Sym) <= table->sh_size; at += sizeof(Elf32_Sym)) {
        const Elf32_Sym *symbol = part(image, table->sh_offset + at, sizeof *symbol);
        const char *text;

        if (symbol == NULL || symbol->st_name >= names->sh_size) {
            return false;
        }
        text = part(image, names->sh_offset + symbol->st_name, names->sh_size - symbol->st_name);
        if (text != NULL && strncmp(text, name, names->sh_size - symbol->st_name) == 0) {
            *value = symbol->st_value;
            return true;
        }
    }
    return false;
}

bool elf_image_symbol(const elf_image *image, const char *name, uint32_t *value)
{
    const Elf32_Ehdr *header = part(image, 0, sizeof *header);
    const Elf32_Shdr *sections = part(image, header->e_shoff, header->e_shnum * sizeof *sections);

    for (unsigned i = 0; sections != NULL && i < header->e_shnum; i++) {
        if (sections[i].sh_type == SHT_SYMTAB && sections[i].sh_link < header->e_shnum &&
            find_in(image, &sections[i], &sections[sections[i].sh_link], name, value)) {
            return true;
        }
    }
    return false;
}
