/*
 * What the chip's ROM reads first (IMXRT1060RM, "Serial NOR configuration block", "Image Vector
 * Table and Boot Data"): how to read the flash, then where the program is. The flash is read with
 * the command 03h, one line wide at 30 MHz, which all usual flash chips know.
 */
#include "board_parts.h"

#define FLASH 0x60000000u
#define FLASH_BYTES 0x00200000u

/* Instructions of the look-up table: operation, operand; all on one line. */
#define LUT(operation, operand) ((uint32_t)(operation) << 10 | (operand))
#define LUT_PAIR(first, second) ((first) | (second) << 16)
#define LUT_COMMAND 0x01u
#define LUT_ADDRESS 0x02u
#define LUT_READ 0x09u
#define COMMAND_READ 0x03u

typedef struct {
    uint32_t tag;     /* 0x000 */
    uint32_t version; /* 0x004 */
    uint32_t reserved0;
    uint8_t sample_clock_source; /* 0x00C: 0 is the controller's own */
    uint8_t hold_time;
    uint8_t setup_time;
    uint8_t column_address_width;
    uint32_t commands[12];  /* 0x010: none */
    uint32_t miscellaneous; /* 0x040 */
    uint8_t device_type;    /* 0x044: 1 is NOR */
    uint8_t pad_type;       /* one line */
    uint8_t clock;          /* 1 is 30 MHz */
    uint8_t look_up_table_given;
    uint32_t reserved3[2];
    uint32_t size_a1; /* 0x050 */
    uint32_t others[11];
    uint32_t look_up_table[64]; /* 0x080: the first sequence reads */
    uint32_t look_up_sequences[12];
    uint32_t reserved4[4];
    uint32_t page_bytes;   /* 0x1C0 */
    uint32_t sector_bytes; /* 0x1C4 */
    uint32_t rest[14];
} flash_configuration;

__attribute__((section(".flash_configuration"), used)) static const flash_configuration how = {
    .tag = 0x42464346u, /* "FCFB" */
    .version = 0x56010000u,
    .hold_time = 3,
    .setup_time = 3,
    .device_type = 1,
    .pad_type = 1,
    .clock = 1,
    .size_a1 = FLASH_BYTES,
    .look_up_table = {LUT_PAIR(LUT(LUT_COMMAND, COMMAND_READ), LUT(LUT_ADDRESS, 24u)),
                      LUT(LUT_READ, 4u)},
    .page_bytes = 256u,
    .sector_bytes = 4096u,
};

typedef struct {
    uint32_t start;
    uint32_t bytes;
    uint32_t plugin;
    uint32_t placeholder;
} boot_data;

extern const uint32_t layout_vectors[];

__attribute__((section(".boot_data"), used)) static const boot_data where = {FLASH, FLASH_BYTES, 0,
                                                                             0xFFFFFFFFu};

typedef struct image_vector_table {
    uint32_t header; /* tag 0xD1, length 32 with its higher byte first, version 4.1 */
    const uint32_t *entry;
    uint32_t reserved1;
    const void *device_configuration;
    const boot_data *data;
    const struct image_vector_table *self;
    const void *signature;
    uint32_t reserved2;
} image_vector_table;

__attribute__((section(".image_vector_table"), used)) static const image_vector_table table = {
    .header = 0x412000D1u,
    .entry = layout_vectors,
    .data = &where,
    .self = &table,
};
