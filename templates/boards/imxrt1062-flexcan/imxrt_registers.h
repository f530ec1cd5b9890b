/*
 * The i.MX RT1062 as this port uses it: addresses and bit positions after the vendor's published
 * headers of the chip (MIMXRT1062_COMMON.h with PERI_CCM.h and so on, fsl_clock.h, fsl_iomuxc.h,
 * fsl_flexspi_nor_boot.h) and the reference manual IMXRT1060RM; compared with them.
 */
#ifndef IMXRT_REGISTERS_H
#define IMXRT_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))
#define REGISTER16(address) (*(volatile uint16_t *)(address))

/* ---- Clock controller module ---- */
#define CCM_CACRR REGISTER(0x400FC010u)
#define CCM_CBCDR REGISTER(0x400FC014u)
#define CCM_CBCMR REGISTER(0x400FC018u)
#define CCM_CSCMR2 REGISTER(0x400FC020u)
#define CCM_CDHIPR REGISTER(0x400FC048u)
#define CCM_CLPCR REGISTER(0x400FC054u)
#define CCM_CCGR(number) REGISTER(0x400FC068u + 4u * (number))
#define CCM_GATE(number) (3u << (2u * (number))) /* always on */
#define CCGR0_CAN1_CAN2 (CCM_GATE(7u) | CCM_GATE(8u) | CCM_GATE(9u) | CCM_GATE(10u))
#define CCGR0_GPIO2 CCM_GATE(15u)
#define CCGR1_GPT1_GPIO1 (CCM_GATE(10u) | CCM_GATE(11u) | CCM_GATE(13u))
#define CCGR3_WDOG1 CCM_GATE(8u)
#define CCGR4_IOMUXC CCM_GATE(1u)
#define CCGR7_CAN3 (CCM_GATE(3u) | CCM_GATE(4u))
#define CACRR_ARM_HALVED 1u
#define CBCDR_PERIPH_CLK2 (1u << 25)
#define CBCDR_AHB_MASK (7u << 10)
#define CBCDR_IPG_MASK (3u << 8)
#define CBCDR_IPG_BY_3 (2u << 8)
#define CBCMR_PERIPH_CLK2_MASK (3u << 12)
#define CBCMR_PERIPH_CLK2_CRYSTAL (1u << 12)
#define CBCMR_PRE_PERIPH_ARM_PLL (3u << 18)
#define CSCMR2_CAN_MASK ((3u << 8) | (0x3Fu << 2))
#define CSCMR2_CAN_CRYSTAL (1u << 8) /* 24 MHz, not divided */
#define CLPCR_LPM_MASK 3u            /* 0: a wait does not stop clocks */
#define PLL_ARM REGISTER(0x400D8000u)
#define PLL_ENABLE (1u << 13)
#define PLL_LOCK (1u << 31)

/* ---- Pins: function, pad, which pin an input comes from ---- */
/* Ports 1 and 2 in the order of their pins: AD_B0_00 ... AD_B1_15, B0_00 ... B1_15. */
#define IOMUX_FUNCTION(port, bit) REGISTER(0x401F80BCu + 0x80u * (port) + 4u * (bit))
#define IOMUX_PAD(port, bit) REGISTER(0x401F82ACu + 0x80u * (port) + 4u * (bit))
#define IOMUX_CAN1_RX REGISTER(0x401F844Cu)
#define IOMUX_CAN2_RX REGISTER(0x401F8450u)
#define IOMUX_CAN3_RX REGISTER(0x401F878Cu)
#define FUNCTION_GPIO 5u
#define PAD_DRIVE (6u << 3)
#define PAD_KEEPER_OR_PULL (1u << 12)
#define PAD_PULL (1u << 13)
#define PAD_UP_47K (1u << 14)
#define PAD_DOWN_100K (0u << 14)
#define PAD_HYSTERESIS (1u << 16)

/* ---- General purpose input/output: port 0 is GPIO1, port 1 GPIO2 ---- */
#define GPIO(port, offset) REGISTER(0x401B8000u + 0x4000u * (port) + (offset))
#define GPIO_GDIR(port) GPIO(port, 0x04u)
#define GPIO_PSR(port) GPIO(port, 0x08u)
#define GPIO_IMR(port) GPIO(port, 0x14u)
#define GPIO_ISR(port) GPIO(port, 0x18u) /* written 1 clears */
#define GPIO_EDGE_SEL(port) GPIO(port, 0x1Cu)
#define GPIO_SET(port) GPIO(port, 0x84u)
#define GPIO_CLEAR(port) GPIO(port, 0x88u)

/* ---- General purpose timer 1 ---- */
#define GPT_CR REGISTER(0x401EC000u)
#define GPT_PR REGISTER(0x401EC004u)
#define GPT_SR REGISTER(0x401EC008u) /* written 1 clears */
#define GPT_IR REGISTER(0x401EC00Cu)
#define GPT_OCR1 REGISTER(0x401EC010u)
#define GPT_CNT REGISTER(0x401EC024u)
#define GPT_CR_ENABLE (1u << 0)
#define GPT_CR_FROM_ZERO (1u << 1)
#define GPT_CR_CRYSTAL (5u << 6)
#define GPT_CR_FREE_RUN (1u << 9)
#define GPT_CR_CRYSTAL_ON (1u << 10)
#define GPT_OF1 1u

/* ---- Watchdog 1, system reset controller ---- */
#define WDOG_WCR REGISTER16(0x400B8000u)
#define WDOG_WSR REGISTER16(0x400B8002u)
#define WDOG_WMCR REGISTER16(0x400B8008u)
#define WDOG_WCR_ENABLE (1u << 2)
#define WDOG_WCR_NO_SOFTWARE_RESET ((1u << 4) | (1u << 5))
#define WDOG_WCR_HALVES(count) (((count)-1u) << 8) /* of a second */
#define WDOG_FEED_1 0x5555u
#define WDOG_FEED_2 0xAAAAu
#define SRC_SRSR REGISTER(0x400F8008u) /* written 1 clears */
#define SRC_BY_WATCHDOG (1u << 4)

/* ---- Core: interrupt controller, vector table ---- */
#define NVIC_ISER(irq) REGISTER(0xE000E100u + 4u * ((irq) / 32u))
#define NVIC_ICPR(irq) REGISTER(0xE000E280u + 4u * ((irq) / 32u))
#define NVIC_BIT(irq) (1u << ((irq) % 32u))
#define SCB_VTOR REGISTER(0xE000ED08u)

#define IRQ_CAN(controller) ((controller) == 2u ? 154u : 36u + (controller))
#define IRQ_GPIO1_LOW 80u /* pins 0 to 15; 16 to 31 and GPIO2's follow */
#define IRQ_GPT1 100u

#endif
