/*
 * The part of the MCP2518FD that the driver uses: data sheet DS20006027 and the family's reference
 * manual DS20005678; positions held against the public header of the open-source driver mcp251xfd.
 */
#ifndef MCP2518FD_REGISTERS_H
#define MCP2518FD_REGISTERS_H

/* SPI instructions, in the upper four of 16 bits; the others are the address. */
#define MCP_INSTRUCTION_RESET 0x0u
#define MCP_INSTRUCTION_WRITE 0x2u
#define MCP_INSTRUCTION_READ 0x3u

/* Registers of 32 bits, lowest byte first. */
#define MCP_CON 0x000u
#define MCP_NBTCFG 0x004u /* then DBTCFG, TDC */
#define MCP_INT 0x01Cu
#define MCP_TREC 0x034u
#define MCP_TEFCON 0x040u /* then TEFSTA, TEFUA */
#define MCP_TEFSTA 0x044u
#define MCP_TXQCON 0x050u /* then TXQSTA, TXQUA */
#define MCP_TXQSTA 0x054u
#define MCP_FIFOCON1 0x05Cu /* then FIFOSTA1, FIFOUA1 */
#define MCP_FIFOSTA1 0x060u
#define MCP_FLTCON 0x1D0u  /* a byte for each filter */
#define MCP_FLTOBJ0 0x1F0u /* then MASK0, FLTOBJ1, ... */
#define MCP_RAM 0x400u
#define MCP_RAM_BYTES 0x800u

/* CON */
#define MCP_CON_REQOP_SHIFT 24u
#define MCP_CON_OPMOD_SHIFT 21u
#define MCP_CON_MODE_MASK 7u
#define MCP_CON_TXQEN (1u << 20)
#define MCP_CON_STEF (1u << 19)
#define MCP_CON_PXEDIS (1u << 6)
#define MCP_CON_ISOCRCEN (1u << 5)
#define MCP_MODE_FD 0u
#define MCP_MODE_CONFIGURATION 4u
#define MCP_MODE_CLASSIC 6u

/* INT: flags, and 16 bits above each its enable */
#define MCP_INT_RXIF (1u << 1)
#define MCP_INT_TEFIF (1u << 4)
#define MCP_INT_CERRIF (1u << 13)
#define MCP_INT_ENABLE(flags) ((uint32_t)(flags) << 16)

#define MCP_TREC_TXBO (1u << 21)

/* FIFOs: their depth less 1, and what their objects carry */
#define MCP_FSIZE(depth) ((uint32_t)((depth)-1u) << 24)
#define MCP_PLSIZE_64 (7u << 29)
#define MCP_PLSIZE_8 0u
#define MCP_TXAT_UNLIMITED (3u << 21)
#define MCP_TXEN (1u << 7)
#define MCP_RXOVIE (1u << 3)
#define MCP_NOT_EMPTY_IE (1u << 0)
/* In byte 1 of a FIFO's control register: */
#define MCP_UINC 0x01u
#define MCP_TXREQ 0x02u
#define MCP_FRESET 0x04u
/* In a FIFO's status: not empty, or the transmit queue is not full; a frame was lost */
#define MCP_STA_READY (1u << 0)
#define MCP_STA_RXOVIF (1u << 3)

/* Filters */
#define MCP_FLTEN 0x80u

/* Objects: identifier, flags, data */
#define MCP_OBJ_EID_SHIFT 11u
#define MCP_OBJ_DLC 0xFu
#define MCP_OBJ_IDE (1u << 4)
#define MCP_OBJ_RTR (1u << 5)
#define MCP_OBJ_BRS (1u << 6)
#define MCP_OBJ_FDF (1u << 7)
#define MCP_OBJ_SEQ_SHIFT 9u

#endif
