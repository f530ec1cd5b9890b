/*
 * The RP2040 as these ports use it. Addresses and bit positions are facts of the vendor's published
 * headers (pico-sdk, src/rp2040/hardware_regs/include/hardware/regs/: the file named at each
 * block); tests/Unit/Boards/VendorRegisterTests.cs holds them against values quoted from there.
 */
#ifndef RP2040_REGISTERS_H
#define RP2040_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))

/* Writing a register of the APB through these sets or clears bits (addressmap.h, REG_ALIAS_...). */
#define SET_BITS(address) REGISTER((address) + 0x2000u)
#define CLEAR_BITS(address) REGISTER((address) + 0x3000u)

/* ---- Clocks (clocks.h) ---- */
#define CLK_REF_CTRL REGISTER(0x40008030u)
#define CLK_REF_SELECTED REGISTER(0x40008038u)
#define CLK_SYS_CTRL REGISTER(0x4000803Cu)
#define CLK_SYS_SELECTED REGISTER(0x40008044u)
#define CLK_PERI_CTRL REGISTER(0x40008048u)
#define CLK_REF_XOSC 2u
#define CLK_SYS_AUX 1u             /* the auxiliary source 0 is the system PLL */
#define CLK_PERI_ENABLE (1u << 11) /* the auxiliary source 0 is the system clock */
#define CLK_SELECTED(source) (1u << (source))

/* ---- Resets (resets.h) ---- */
#define RESETS_RESET 0x4000C000u
#define RESETS_DONE REGISTER(0x4000C008u)
#define RESET_IO_BANK0 (1u << 5)
#define RESET_PADS_BANK0 (1u << 8)
#define RESET_PLL_SYS (1u << 12)
#define RESET_SPI0 (1u << 16)
#define RESET_TIMER (1u << 21)

/* ---- Power-on state machine: what the watchdog resets (psm.h) ---- */
#define PSM_WDSEL REGISTER(0x40010008u)
#define PSM_ALL_BUT_OSCILLATORS 0x0001FFFCu

/* ---- Pins: function, interrupts (io_bank0.h), pads (pads_bank0.h) ---- */
#define IO_CTRL(pin) REGISTER(0x40014004u + 8u * (pin))
#define IO_FUNCTION_SPI 1u
#define IO_FUNCTION_SIO 5u
#define IO_INTR(pin) REGISTER(0x400140F0u + 4u * ((pin) / 8u))
#define IO_INTE_ADDRESS(pin) (0x40014100u + 4u * ((pin) / 8u)) /* of processor 0 */
#define IO_EVENT_SHIFT(pin) (4u * ((pin) % 8u))
#define IO_LEVEL_LOW(pin) (1u << IO_EVENT_SHIFT(pin))
#define IO_EDGES(pin) (0xCu << IO_EVENT_SHIFT(pin)) /* written 1 to IO_INTR clears */
#define PAD(pin) REGISTER(0x4001C004u + 4u * (pin))
#define PAD_SCHMITT (1u << 1)
#define PAD_PULL_DOWN (1u << 2)
#define PAD_PULL_UP (1u << 3)
#define PAD_DRIVE_4MA (1u << 4)
#define PAD_INPUT (1u << 6)

/* ---- Single-cycle IO (sio.h) ---- */
#define SIO_GPIO_IN REGISTER(0xD0000004u)
#define SIO_GPIO_OUT_SET REGISTER(0xD0000014u)
#define SIO_GPIO_OUT_CLR REGISTER(0xD0000018u)
#define SIO_GPIO_OE_SET REGISTER(0xD0000024u)

/* ---- Crystal oscillator (xosc.h) ---- */
#define XOSC_CTRL REGISTER(0x40024000u)
#define XOSC_STATUS REGISTER(0x40024004u)
#define XOSC_STARTUP REGISTER(0x4002400Cu)
#define XOSC_ENABLE 0x00FABAA0u
#define XOSC_STABLE (1u << 31)

/* ---- System PLL (pll.h) ---- */
#define PLL_CS REGISTER(0x40028000u)
#define PLL_PWR_ADDRESS 0x40028004u
#define PLL_FBDIV REGISTER(0x40028008u)
#define PLL_PRIM REGISTER(0x4002800Cu)
#define PLL_CS_LOCK (1u << 31)
#define PLL_PWR_VCO_AND_ALL ((1u << 5) | (1u << 0))
#define PLL_PWR_POSTDIV (1u << 3)
#define PLL_PRIM_DIVIDE(first, second) (((first) << 16) | ((second) << 12))

/* ---- Serial port 0, a PL022 (spi.h) ---- */
#define SPI_CR0 REGISTER(0x4003C000u)
#define SPI_CR1 REGISTER(0x4003C004u)
#define SPI_DR REGISTER(0x4003C008u)
#define SPI_SR REGISTER(0x4003C00Cu)
#define SPI_CPSR REGISTER(0x4003C010u)
#define SPI_CR0_8_BITS 7u /* mode 0 */
#define SPI_CR0_RATE(divisor) (((divisor)-1u) << 8)
#define SPI_CR1_ENABLE (1u << 1)
#define SPI_SR_TAKEN (1u << 2) /* RNE: a byte came in */

/* ---- Timer of 1 us (timer.h) ---- */
#define TIMER_ALARM0 REGISTER(0x40054010u)
#define TIMER_ARMED REGISTER(0x40054020u) /* written 1 disarms */
#define TIMER_RAWL REGISTER(0x40054028u)
#define TIMER_INTR REGISTER(0x40054034u) /* written 1 clears */
#define TIMER_INTE REGISTER(0x40054038u)

/* ---- Watchdog, and the 1 us tick that it and the timer count (watchdog.h) ---- */
#define WATCHDOG_CTRL REGISTER(0x40058000u)
#define WATCHDOG_LOAD REGISTER(0x40058004u)
#define WATCHDOG_REASON REGISTER(0x40058008u)
#define WATCHDOG_TICK REGISTER(0x4005802Cu)
#define WATCHDOG_ENABLE (1u << 30)
#define WATCHDOG_PAUSE_IN_DEBUGGER (7u << 24)
#define WATCHDOG_REASON_ANY 3u
#define WATCHDOG_TICK_ENABLE (1u << 9)

/* ---- Flash interface (ssi.h) ---- */
#define SSI_CTRLR0 REGISTER(0x18000000u)
#define SSI_CTRLR1 REGISTER(0x18000004u)
#define SSI_ENABLE REGISTER(0x18000008u)
#define SSI_BAUDR REGISTER(0x18000014u)
#define SSI_SPI_CTRLR0 REGISTER(0x180000F4u)
#define SSI_CTRLR0_32_BITS (31u << 16)
#define SSI_CTRLR0_EEPROM_READ (3u << 8)
#define SSI_XIP_COMMAND(command) ((uint32_t)(command) << 24)
#define SSI_INSTRUCTION_8_BITS (2u << 8)
#define SSI_ADDRESS_24_BITS (6u << 2)

/* ---- Core: interrupt controller, vector table (m0plus.h, intctrl.h) ---- */
#define NVIC_ISER REGISTER(0xE000E100u)
#define NVIC_ISPR REGISTER(0xE000E200u)
#define NVIC_ICPR REGISTER(0xE000E280u)
#define SCB_VTOR REGISTER(0xE000ED08u)
#define IRQ_TIMER_0 (1u << 0)
#define IRQ_IO_BANK0 (1u << 13)

#endif
