/* Registers, message RAM and bits of the controller in its two kinds. */
#ifndef FDCAN_MAP_H
#define FDCAN_MAP_H

#include <stdbool.h>
#include <stdint.h>

#define FDCAN_RAM_WORDS 2560u
#define FDCAN_RAM_PAINT 0xA5A5A5A5u /* no reset clears the message RAM */

enum {
    DBTP,
    CCCR,
    NBTP,
    ECR,
    PSR,
    TDCR,
    IR,
    IE,
    ILS,
    ILE,
    GFC,
    SIDFC,
    XIDFC,
    XIDAM,
    RXF0C,
    RXF0S,
    RXF0A,
    RXESC,
    TXBC,
    TXFQS,
    TXESC,
    TXBRP,
    TXBAR,
    TXBCR,
    TXBTO,
    TXBCF,
    TXBTIE,
    TXBCIE,
    FDCAN_REGISTERS
};

typedef struct {
    uint16_t offset;
    uint8_t name;
    bool is_protected; /* takes values only while INIT and CCE are set */
    uint32_t reset;
    uint32_t writable;
} fdcan_register;

typedef struct fdcan_kind {
    const fdcan_register *registers;
    unsigned register_count;
    bool configurable;  /* the program lays out the message RAM */
    uint32_t ram_words; /* of all controllers */
    uint32_t rf0n;
    uint32_t rf0f;
    uint32_t rf0l;
    uint32_t tc;
    uint32_t tcf;
    uint32_t ep;
    uint32_t ew;
    uint32_t bo;
} fdcan_kind;

extern const fdcan_kind fdcan_fixed;        /* G0, G4 */
extern const fdcan_kind fdcan_configurable; /* H7 */

#define CCCR_INIT (1u << 0)
#define CCCR_CCE (1u << 1)
#define CCCR_FDOE (1u << 8)
#define CCCR_BRSE (1u << 9)
#define CCCR_MODELLED (CCCR_INIT | CCCR_CCE | CCCR_FDOE | CCCR_BRSE)
#define PSR_LEC_NONE 7u
#define PSR_IDLE (1u << 3)
#define PSR_EP (1u << 5)
#define PSR_EW (1u << 6)
#define PSR_BO (1u << 7)
#define DBTP_TDC (1u << 23)
#define TXBC_QUEUE_FIXED (1u << 24)
#define TXBC_QUEUE (1u << 30)
#define RXF0C_OVERWRITE (1u << 31)
#define GFC_OVERWRITE_FIXED (1u << 9)
#define RXF0S_FULL (1u << 24)
#define RXF0S_LOST (1u << 25)
#define TXFQS_FULL (1u << 21)

/* First words of elements. */
#define E0_EXTENDED (1u << 30)
#define E0_REMOTE (1u << 29)
#define E0_ID 0x1FFFFFFFu
#define E1_EVENT (1u << 23)
#define E1_FD (1u << 21)
#define E1_BRS (1u << 20)
#define E1_NO_MATCH (1u << 31)

#endif
