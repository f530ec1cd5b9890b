/*
 * The FDCAN controllers: offsets and bit positions after RM0440, RM0444 and RM0433, "FD controller
 * area network (FDCAN)", compared with the maker's stm32g431xx.h, stm32h743xx.h and
 * stm32g4xx_hal_fdcan.c. The two kinds differ in who lays out the message RAM: the chip, or the
 * program (FDCAN_CONFIGURABLE).
 */
#ifndef FDCAN_REGISTERS_H
#define FDCAN_REGISTERS_H

#include "board_parts.h"

#define FDCAN(bus, offset) REGISTER(FDCAN_BASE(bus) + (offset))
#define FDCAN_DBTP(bus) FDCAN(bus, 0x0Cu)
#define FDCAN_CCCR(bus) FDCAN(bus, 0x18u)
#define FDCAN_NBTP(bus) FDCAN(bus, 0x1Cu)
#define FDCAN_PSR(bus) FDCAN(bus, 0x44u)
#define FDCAN_TDCR(bus) FDCAN(bus, 0x48u)
#define FDCAN_IR(bus) FDCAN(bus, 0x50u) /* written 1 clears */
#define FDCAN_IE(bus) FDCAN(bus, 0x54u)
#define FDCAN_ILS(bus) FDCAN(bus, 0x58u)
#define FDCAN_ILE(bus) FDCAN(bus, 0x5Cu)
#define FDCAN_GFC(bus) FDCAN(bus, 0x80u) /* RXGFC */
#define FDCAN_TXBC(bus) FDCAN(bus, 0xC0u)
#define FDCAN_TXFQS(bus) FDCAN(bus, 0xC4u)

#define FDCAN_CCCR_INIT (1u << 0)
#define FDCAN_CCCR_CCE (1u << 1)
#define FDCAN_CCCR_FDOE (1u << 8)
#define FDCAN_CCCR_BRSE (1u << 9)
#define FDCAN_PSR_EP (1u << 5)
#define FDCAN_PSR_BO (1u << 7)
#define FDCAN_IR_RF0N (1u << 0) /* a frame has come into FIFO 0 */
#define FDCAN_ILE_LINE0 1u
#define FDCAN_GFC_REJECT 0x2Bu /* remote frames and frames that match no filter */

#if FDCAN_CONFIGURABLE
#define FDCAN_SIDFC(bus) FDCAN(bus, 0x84u)
#define FDCAN_XIDFC(bus) FDCAN(bus, 0x88u)
#define FDCAN_RXF0C(bus) FDCAN(bus, 0xA0u)
#define FDCAN_RXF0S(bus) FDCAN(bus, 0xA4u)
#define FDCAN_RXF0A(bus) FDCAN(bus, 0xA8u)
#define FDCAN_RXESC(bus) FDCAN(bus, 0xBCu)
#define FDCAN_TXESC(bus) FDCAN(bus, 0xC8u)
#define FDCAN_TXBRP(bus) FDCAN(bus, 0xCCu)
#define FDCAN_TXBAR(bus) FDCAN(bus, 0xD0u)
#define FDCAN_TXBCR(bus) FDCAN(bus, 0xD4u)
#define FDCAN_TXBTIE(bus) FDCAN(bus, 0xE0u)
#define FDCAN_IR_RF0L (1u << 3) /* a frame found FIFO 0 full */
#define FDCAN_IR_TC (1u << 9)   /* a transmission is complete */
#define FDCAN_IR_BO (1u << 25)
#define FDCAN_LIST_SIZE_SHIFT 16u /* of SIDFC, XIDFC, RXF0C; the start below */
#define FDCAN_ESC_64_BYTES 7u
#define FDCAN_TXBC_SIZE_SHIFT 24u
#define FDCAN_TXBC_QUEUE (1u << 30)
#else
#define FDCAN_RXF0S(bus) FDCAN(bus, 0x90u)
#define FDCAN_RXF0A(bus) FDCAN(bus, 0x94u)
#define FDCAN_TXBRP(bus) FDCAN(bus, 0xC8u)
#define FDCAN_TXBAR(bus) FDCAN(bus, 0xCCu)
#define FDCAN_TXBCR(bus) FDCAN(bus, 0xD0u)
#define FDCAN_TXBTIE(bus) FDCAN(bus, 0xDCu)
#define FDCAN_IR_RF0L (1u << 2)
#define FDCAN_IR_TC (1u << 7)
#define FDCAN_IR_BO (1u << 19)
#define FDCAN_GFC_LSS_SHIFT 16u /* number of elements for 11-bit identifiers */
#define FDCAN_GFC_LSE_SHIFT 24u /* for 29-bit ones */
#define FDCAN_TXBC_QUEUE (1u << 24)
#endif

#define FDCAN_RXF0S_FILL 0x7Fu
#define FDCAN_RXF0S_GET_SHIFT 8u
#define FDCAN_RXF0S_GET_MASK 0x3Fu
#define FDCAN_TXFQS_FULL (1u << 21)
#define FDCAN_TXFQS_PUT_SHIFT 16u
#define FDCAN_TXFQS_PUT_MASK 0x1Fu

/* Elements of the receive FIFO and of transmit buffers: two words, then up to 64 bytes. */
#define FDCAN_ELEMENT_BYTES 72u
#define FDCAN_E0_EXTENDED (1u << 30)
#define FDCAN_E0_REMOTE (1u << 29)
#define FDCAN_E0_ID 0x1FFFFFFFu
#define FDCAN_E0_STANDARD_SHIFT 18u
#define FDCAN_E1_FD (1u << 21)
#define FDCAN_E1_SWITCH_RATE (1u << 20)
#define FDCAN_E1_DLC_SHIFT 16u
#define FDCAN_E1_DLC_MASK 0xFu

#endif
