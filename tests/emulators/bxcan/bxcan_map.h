/* Offsets and bits of the controller, after RM0008. */
#ifndef BXCAN_MAP_H
#define BXCAN_MAP_H

enum {
    MCR = 0x000,
    MSR = 0x004,
    TSR = 0x008,
    RF0R = 0x00C,
    RF1R = 0x010,
    IER = 0x014,
    ESR = 0x018,
    BTR = 0x01C,
    MAILBOX_FIRST = 0x180,
    MAILBOX_END = 0x1B0,
    RECEIVE_FIRST = 0x1B0,
    RECEIVE_END = 0x1D0,
    FMR = 0x200,
    FM1R = 0x204,
    FS1R = 0x20C,
    FFA1R = 0x214,
    FA1R = 0x21C,
    FILTER_BANKS_FIRST = 0x240,
    FILTER_END = 0x320
};

enum { TIR = 0x0, TDTR = 0x4, TDLR = 0x8, TDHR = 0xC };
enum { RIR = 0x0, RDTR = 0x4, RDLR = 0x8, RDHR = 0xC };

#define MCR_INRQ (1u << 0)
#define MCR_SLEEP (1u << 1)
#define MCR_TXFP (1u << 2)
#define MCR_RFLM (1u << 3)
#define MCR_ABOM (1u << 6)
#define MCR_TTCM (1u << 7)
#define MCR_RESET (1u << 15)
#define MCR_AT_RESET 0x00010002u
#define MSR_INAK (1u << 0)
#define MSR_SLAK (1u << 1)
#define MSR_ERRI (1u << 2)
#define MSR_RECESSIVE ((1u << 10) | (1u << 11)) /* SAMP, RX */

/* Per mailbox, shifted by 8 each. */
#define TSR_RQCP 0x01u
#define TSR_TXOK 0x02u
#define TSR_FLAGS 0x0Fu
#define TSR_ABRQ 0x80u
#define TSR_CODE_SHIFT 24u
#define TSR_TME_SHIFT 26u
#define TSR_LOW_SHIFT 29u

#define RFR_FULL (1u << 3)
#define RFR_FOVR (1u << 4)
#define RFR_RFOM (1u << 5)
#define RIR_IDE (1u << 2)

#define IER_TMEIE (1u << 0)
/* Per FIFO, three bits each. */
#define IER_FIFO_SHIFT 1u
#define IER_BOFIE (1u << 10)
#define IER_ERRIE (1u << 15)
#define FIFO_FMPIE 1u
#define FIFO_FFIE 2u
#define FIFO_FOVIE 4u
#define ESR_EWGF (1u << 0) /* error counter 96 or more */
#define ESR_EPVF (1u << 1) /* above 127 */
#define ESR_BOFF (1u << 2) /* above 255 */
#define ESR_ACKNOWLEDGE_ERROR (3u << 4)
#define ESR_TEC_SHIFT 16u
#define BTR_AT_RESET 0x01230000u
#define BTR_TEST_MODES (3u << 30) /* silent, loop back */
#define TIR_TXRQ (1u << 0)
#define TIR_RTR (1u << 1)
#define TIR_IDE (1u << 2)
#define FMR_FINIT (1u << 0)
#define FMR_SECOND_START (0x3Fu << 8)
#define FMR_SECOND_START_SHIFT 8u
#define FMR_AT_RESET 0x2A1C0E01u

#endif
