/*
 * The FlexCAN controllers (IMXRT1060RM, "Flexible Controller Area Network", and for controller 3
 * the chapter on its CAN FD variant), compared with the vendor's public headers PERI_CAN.h and
 * fsl_flexcan.c.
 */
#ifndef FLEXCAN_REGISTERS_H
#define FLEXCAN_REGISTERS_H

#include "imxrt_registers.h"

#define FLEXCAN(controller, offset) REGISTER(0x401D0000u + 0x4000u * (controller) + (offset))
#define FLEXCAN_MCR(controller) FLEXCAN(controller, 0x000u)
#define FLEXCAN_CTRL1(controller) FLEXCAN(controller, 0x004u)
#define FLEXCAN_TIMER(controller) FLEXCAN(controller, 0x008u)
#define FLEXCAN_ESR1(controller) FLEXCAN(controller, 0x020u)
#define FLEXCAN_IMASK1(controller) FLEXCAN(controller, 0x028u)
#define FLEXCAN_IFLAG1(controller) FLEXCAN(controller, 0x030u) /* written 1 clears */
#define FLEXCAN_CTRL2(controller) FLEXCAN(controller, 0x034u)
#define FLEXCAN_CBT(controller) FLEXCAN(controller, 0x050u)
#define FLEXCAN_RXIMR(controller, box) FLEXCAN(controller, 0x880u + 4u * (box))
#define FLEXCAN_FDCTRL(controller) FLEXCAN(controller, 0xC00u)
#define FLEXCAN_FDCBT(controller) FLEXCAN(controller, 0xC04u)
/* Mailboxes of 16 bytes, or seven of 72 bytes in each block of 512. */
#define FLEXCAN_BOX(controller, box) (0x401D0080u + 0x4000u * (controller) + 16u * (box))
#define FLEXCAN_BOX_64(controller, box)                                                            \
    (0x401D0080u + 0x4000u * (controller) + 512u * ((box) / 7u) + 72u * ((box) % 7u))

#define FLEXCAN_MCR_MDIS (1u << 31)
#define FLEXCAN_MCR_FRZ (1u << 30)
#define FLEXCAN_MCR_HALT (1u << 28)
#define FLEXCAN_MCR_SOFTRST (1u << 25)
#define FLEXCAN_MCR_FRZACK (1u << 24)
#define FLEXCAN_MCR_LPMACK (1u << 20)
#define FLEXCAN_MCR_SRXDIS (1u << 17) /* does not receive its own frames */
#define FLEXCAN_MCR_IRMQ (1u << 16)   /* masks of their own, and mailboxes in chains */
#define FLEXCAN_MCR_AEN (1u << 12)    /* safe aborts */
#define FLEXCAN_MCR_FDEN (1u << 11)
#define FLEXCAN_CTRL1_BOFFMSK (1u << 15)
#define FLEXCAN_CTRL1_BOFFREC (1u << 6) /* stays off after a bus-off */
#define FLEXCAN_CTRL2_ISOCANFDEN (1u << 12)
#define FLEXCAN_ESR1_BOFFINT (1u << 2) /* written 1 clears */
#define FLEXCAN_ESR1_PASSIVE (1u << 4)
#define FLEXCAN_ESR1_OFF (1u << 5)
#define FLEXCAN_ESR1_SYNCH (1u << 18)
#define FLEXCAN_FDCTRL_FDRATE (1u << 31)
#define FLEXCAN_FDCTRL_64_BYTES ((3u << 16) | (3u << 19)) /* in both blocks */

/* A mailbox: control word, identifier, data with the first byte uppermost. */
#define FLEXCAN_CS_CODE_MASK (0xFu << 24)
#define FLEXCAN_CS_RX_INACTIVE (0x0u << 24)
#define FLEXCAN_CS_RX_EMPTY (0x4u << 24)
#define FLEXCAN_CS_RX_OVERRUN (0x6u << 24)
#define FLEXCAN_CS_TX_INACTIVE (0x8u << 24)
#define FLEXCAN_CS_TX_ABORT (0x9u << 24)
#define FLEXCAN_CS_TX_DATA (0xCu << 24)
#define FLEXCAN_CS_EDL (1u << 31)
#define FLEXCAN_CS_BRS (1u << 30)
#define FLEXCAN_CS_SRR (1u << 22)
#define FLEXCAN_CS_IDE (1u << 21)
#define FLEXCAN_CS_DLC_SHIFT 16u
#define FLEXCAN_CS_STAMP 0xFFFFu
#define FLEXCAN_ID_STANDARD_SHIFT 18u
#define FLEXCAN_ID_MASK 0x1FFFFFFFu

#endif
