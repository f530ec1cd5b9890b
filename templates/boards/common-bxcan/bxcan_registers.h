/*
 * The bxCAN controllers: offsets and bit positions after RM0008 and RM0090, "Controller area
 * network (bxCAN)", compared with the maker's stm32f103xb.h. The filters of a pair are registers of
 * the first one.
 */
#ifndef BXCAN_REGISTERS_H
#define BXCAN_REGISTERS_H

#include "board_parts.h"

#define BXCAN_BASE(bus) (0x40006400u + 0x400u * (bus))

#define BXCAN_MCR(bus) REGISTER(BXCAN_BASE(bus) + 0x000u)
#define BXCAN_MSR(bus) REGISTER(BXCAN_BASE(bus) + 0x004u)
#define BXCAN_TSR(bus) REGISTER(BXCAN_BASE(bus) + 0x008u)
#define BXCAN_RF0R(bus) REGISTER(BXCAN_BASE(bus) + 0x00Cu)
#define BXCAN_IER(bus) REGISTER(BXCAN_BASE(bus) + 0x014u)
#define BXCAN_ESR(bus) REGISTER(BXCAN_BASE(bus) + 0x018u)
#define BXCAN_BTR(bus) REGISTER(BXCAN_BASE(bus) + 0x01Cu)
#define BXCAN_TIR(bus, mailbox) REGISTER(BXCAN_BASE(bus) + 0x180u + 16u * (mailbox))
#define BXCAN_TDTR(bus, mailbox) REGISTER(BXCAN_BASE(bus) + 0x184u + 16u * (mailbox))
#define BXCAN_TDLR(bus, mailbox) REGISTER(BXCAN_BASE(bus) + 0x188u + 16u * (mailbox))
#define BXCAN_TDHR(bus, mailbox) REGISTER(BXCAN_BASE(bus) + 0x18Cu + 16u * (mailbox))
#define BXCAN_RI0R(bus) REGISTER(BXCAN_BASE(bus) + 0x1B0u)
#define BXCAN_RDT0R(bus) REGISTER(BXCAN_BASE(bus) + 0x1B4u)
#define BXCAN_RDL0R(bus) REGISTER(BXCAN_BASE(bus) + 0x1B8u)
#define BXCAN_RDH0R(bus) REGISTER(BXCAN_BASE(bus) + 0x1BCu)
#define BXCAN_FMR REGISTER(BXCAN_BASE(0) + 0x200u)
#define BXCAN_FM1R REGISTER(BXCAN_BASE(0) + 0x204u)
#define BXCAN_FS1R REGISTER(BXCAN_BASE(0) + 0x20Cu)
#define BXCAN_FFA1R REGISTER(BXCAN_BASE(0) + 0x214u)
#define BXCAN_FA1R REGISTER(BXCAN_BASE(0) + 0x21Cu)
#define BXCAN_FR1(bank) REGISTER(BXCAN_BASE(0) + 0x240u + 8u * (bank))
#define BXCAN_FR2(bank) REGISTER(BXCAN_BASE(0) + 0x244u + 8u * (bank))

#define BXCAN_MCR_INRQ (1u << 0)
#define BXCAN_MCR_ABOM (1u << 6) /* leaves bus-off by itself after 128 x 11 recessive bits */
#define BXCAN_MSR_INAK (1u << 0)
#define BXCAN_MSR_SLAK (1u << 1)
#define BXCAN_MSR_ERRI (1u << 2) /* an error that BXCAN_IER names; written 1 clears */
#define BXCAN_TSR_RQCP_ALL 0x00010101u
#define BXCAN_TSR_ABRQ_ALL 0x00808080u
#define BXCAN_TSR_TME(mailbox) (1u << (26u + (mailbox)))
#define BXCAN_RF0R_FMP 3u         /* frames in the FIFO */
#define BXCAN_RF0R_FOVR (1u << 4) /* written 1 clears */
#define BXCAN_RF0R_RFOM (1u << 5) /* written 1 releases; 0 again when done */
#define BXCAN_IER_TMEIE (1u << 0)
#define BXCAN_IER_FMPIE0 (1u << 1)
#define BXCAN_IER_BOFIE (1u << 10)
#define BXCAN_IER_ERRIE (1u << 15)
#define BXCAN_ESR_EPVF (1u << 1)
#define BXCAN_ESR_BOFF (1u << 2)
#define BXCAN_TIR_TXRQ (1u << 0)
#define BXCAN_TIR_IDE (1u << 2)
#define BXCAN_TIR_EXTENDED_SHIFT 3u
#define BXCAN_TIR_STANDARD_SHIFT 21u
#define BXCAN_RIR_RTR (1u << 1)
#define BXCAN_RIR_IDE (1u << 2)
#define BXCAN_RIR_EXTENDED_SHIFT 3u
#define BXCAN_RIR_STANDARD_SHIFT 21u
#define BXCAN_RDTR_DLC 0xFu
#define BXCAN_FMR_FINIT (1u << 0)
#define BXCAN_FMR_SECOND_SHIFT 8u /* first bank of the second controller */

/* Positions in the vector table: transmit, FIFO 0 and errors of each. */
#define BXCAN_IRQ_TX(bus) ((bus) == 0u ? 19u : 63u)
#define BXCAN_IRQ_RX0(bus) (BXCAN_IRQ_TX(bus) + 1u)
#define BXCAN_IRQ_SCE(bus) (BXCAN_IRQ_TX(bus) + 3u)

#endif
