/*
 * The registers of the SAM3X8E that this port uses: addresses and bit positions after the SAM3X /
 * SAM3A datasheet (chapter named at each block), compared with the maker's public headers of the
 * family.
 */
#ifndef SAM3X_REGISTERS_H
#define SAM3X_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))

/* ---- Power management controller ---- */
#define PMC_PCER0 REGISTER(0x400E0610u) /* clock of peripherals 2..31 */
#define CKGR_MOR REGISTER(0x400E0620u)
#define CKGR_PLLAR REGISTER(0x400E0628u)
#define PMC_MCKR REGISTER(0x400E0630u)
#define PMC_SR REGISTER(0x400E0668u)
#define PMC_PCER1 REGISTER(0x400E0700u) /* clock of peripherals 32..44 */
#define PMC_PCDR1 REGISTER(0x400E0704u)

#define MOR_KEY (0x37u << 16)
#define MOR_XTAL_ON (1u << 0)
#define MOR_RC_ON (1u << 3)
#define MOR_XTAL_START(slow_clocks_by_8) ((slow_clocks_by_8) << 8)
#define MOR_SELECT_XTAL (1u << 24)
#define PLLAR_ONE (1u << 29)
#define PLLAR(multiplier, divider) ((((multiplier)-1u) << 16) | (0x3Fu << 8) | (divider))
#define MCKR_MAIN 1u
#define MCKR_PLLA 2u
#define MCKR_CLOCK_MASK 3u
#define MCKR_DIVIDE_BY_2 (1u << 4)
#define PMC_XTAL_STABLE (1u << 0)
#define PMC_PLLA_LOCKED (1u << 1)
#define PMC_MASTER_READY (1u << 3)
#define PMC_XTAL_SELECTED (1u << 16)

/* ---- Enhanced embedded flash controller: wait states of both banks ---- */
#define EFC0_FMR REGISTER(0x400E0A00u)
#define EFC1_FMR REGISTER(0x400E0C00u)
#define FMR_WAIT_STATES(count) ((count) << 8)

/* ---- Parallel input/output controllers ---- */
#define PIO_A 0x400E0E00u
#define PIO_B 0x400E1000u
#define PIO_C 0x400E1200u
#define PIO_D 0x400E1400u
#define PIO_PER(port) REGISTER((port) + 0x00u)
#define PIO_PDR(port) REGISTER((port) + 0x04u)
#define PIO_OER(port) REGISTER((port) + 0x10u)
#define PIO_ODR(port) REGISTER((port) + 0x14u)
#define PIO_SODR(port) REGISTER((port) + 0x30u)
#define PIO_CODR(port) REGISTER((port) + 0x34u)
#define PIO_PDSR(port) REGISTER((port) + 0x3Cu)
#define PIO_IER(port) REGISTER((port) + 0x40u)
#define PIO_ISR(port) REGISTER((port) + 0x4Cu) /* read clears; either edge sets */
#define PIO_PUDR(port) REGISTER((port) + 0x60u)
#define PIO_PUER(port) REGISTER((port) + 0x64u)
#define PIO_ABSR(port) REGISTER((port) + 0x70u) /* bit 0: peripheral A */

/* ---- Timer counter, channel 0 ---- */
#define TC_CCR REGISTER(0x40080000u)
#define TC_CMR REGISTER(0x40080004u)
#define TC_CV REGISTER(0x40080010u)
#define TC_RC REGISTER(0x4008001Cu)
#define TC_SR REGISTER(0x40080020u) /* read clears */
#define TC_IER REGISTER(0x40080024u)
#define TC_START 5u           /* CLKEN, SWTRG */
#define TC_WAVE_UP (1u << 15) /* counts to the end; TCCLKS 0: half the master clock */
#define TC_COMPARE_C (1u << 4)

/* ---- Reset controller, watchdog ---- */
#define RSTC_SR REGISTER(0x400E1A04u)
#define RSTC_TYPE_MASK (7u << 8)
#define RSTC_TYPE_WATCHDOG (2u << 8)
#define WDT_CR REGISTER(0x400E1A50u)
#define WDT_MR REGISTER(0x400E1A54u) /* can be written once after a reset */
#define WDT_FEED 0xA5000001u
#define WDT_RESETS (1u << 13)
#define WDT_VALUE(ticks) ((ticks) | (0xFFFu << 16)) /* of 128 slow clocks; no window */

/* ---- Controller area network ---- */
#define CAN_BASE(bus) (0x400B4000u + 0x4000u * (bus))
#define CAN_MR(bus) REGISTER(CAN_BASE(bus) + 0x00u)
#define CAN_IER(bus) REGISTER(CAN_BASE(bus) + 0x04u)
#define CAN_IDR(bus) REGISTER(CAN_BASE(bus) + 0x08u)
#define CAN_SR(bus) REGISTER(CAN_BASE(bus) + 0x10u)
#define CAN_BR(bus) REGISTER(CAN_BASE(bus) + 0x14u)
#define CAN_TIM(bus) REGISTER(CAN_BASE(bus) + 0x18u)
#define CAN_BOX(bus, box) (CAN_BASE(bus) + 0x200u + 0x20u * (box))
#define CAN_MMR(bus, box) REGISTER(CAN_BOX(bus, box) + 0x00u)
#define CAN_MAM(bus, box) REGISTER(CAN_BOX(bus, box) + 0x04u)
#define CAN_MID(bus, box) REGISTER(CAN_BOX(bus, box) + 0x08u)
#define CAN_MSR(bus, box) REGISTER(CAN_BOX(bus, box) + 0x10u)
#define CAN_MDL(bus, box) REGISTER(CAN_BOX(bus, box) + 0x14u)
#define CAN_MDH(bus, box) REGISTER(CAN_BOX(bus, box) + 0x18u)
#define CAN_MCR(bus, box) REGISTER(CAN_BOX(bus, box) + 0x1Cu)

#define CAN_MR_ENABLE (1u << 0)
#define CAN_MR_STAMP_END (1u << 4) /* time stamps at the end of frames */
#define CAN_SR_PASSIVE (1u << 18)
#define CAN_SR_OFF (1u << 19)
#define CAN_SR_AWAKE (1u << 21) /* takes part in the bus */
#define CAN_MMR_DISABLED 0u
#define CAN_MMR_RECEIVE (1u << 24)
#define CAN_MMR_OVERWRITE (2u << 24)
#define CAN_MMR_TRANSMIT (3u << 24)
#define CAN_MMR_PRIORITY(priority) ((priority) << 16) /* 0 goes first */
#define CAN_MID_EXTENDED (1u << 29)
#define CAN_MID_STANDARD_SHIFT 18u
#define CAN_MSR_STAMP 0xFFFFu
#define CAN_MSR_LENGTH(status) (((status) >> 16) & 0xFu)
#define CAN_MSR_REMOTE (1u << 20)
#define CAN_MSR_READY (1u << 23)
#define CAN_MSR_IGNORED (1u << 24)
#define CAN_MCR_LENGTH(length) ((length) << 16)
#define CAN_MCR_ABORT (1u << 22)
#define CAN_MCR_TRANSFER (1u << 23)

/* ---- Core: interrupt controller, vector table ---- */
#define NVIC_ISER(irq) REGISTER(0xE000E100u + 4u * ((irq) / 32u))
#define NVIC_ICPR(irq) REGISTER(0xE000E280u + 4u * ((irq) / 32u))
#define NVIC_BIT(irq) (1u << ((irq) % 32u))
#define SCB_VTOR REGISTER(0xE000ED08u)

/* Peripheral identifiers, which are interrupt numbers as well (datasheet, "Peripheral
 * Identifiers").
 */
#define ID_PIO_A 11u /* B, C and D follow */
#define ID_TC0 27u
#define ID_CAN0 43u
#define ID_CAN1 44u

#endif
