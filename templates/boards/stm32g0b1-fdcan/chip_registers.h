/*
 * The STM32G0B1 as this port uses it: addresses and bit positions after the reference manual RM0444
 * (chapter named at each block), compared with the maker's stm32g0b1xx.h.
 */
#ifndef CHIP_REGISTERS_H
#define CHIP_REGISTERS_H

#include "core_registers.h"

#define CHIP_INTERNAL_MHZ 16u
#define CHIP_TIMER_MHZ 64u
#define CHIP_SUPPLY_START() ((void)0)

/* ---- Reset and clock control ("Reset and clock control (RCC)") ---- */
#define RCC_CR REGISTER(0x40021000u)
#define RCC_CFGR REGISTER(0x40021008u)
#define RCC_PLLCFGR REGISTER(0x4002100Cu)
#define RCC_APBRSTR1 REGISTER(0x4002102Cu)
#define RCC_IOPENR REGISTER(0x40021034u)
#define RCC_APBENR1 REGISTER(0x4002103Cu)
#define RCC_CCIPR2 REGISTER(0x40021058u)
#define RCC_CSR REGISTER(0x40021060u)

#define RCC_CR_HSEON (1u << 16)
#define RCC_CR_HSERDY (1u << 17)
#define RCC_CR_CSSON (1u << 19) /* a crystal that stops raises the non-maskable interrupt */
#define RCC_CR_PLLON (1u << 24)
#define RCC_CR_PLLRDY (1u << 25)

#define RCC_CFGR_SW_MASK 7u
#define RCC_CFGR_SW_PLL 2u
#define RCC_CFGR_SWS_MASK (7u << 3)
#define RCC_CFGR_SWS_PLL (2u << 3)

#define RCC_PLLCFGR_HSE 3u
#define RCC_PLLCFGR_M(divisor) (((divisor)-1u) << 4)
#define RCC_PLLCFGR_N(factor) ((factor) << 8)
#define RCC_PLLCFGR_QEN (1u << 24)
#define RCC_PLLCFGR_Q(divisor) (((divisor)-1u) << 25)
#define RCC_PLLCFGR_REN (1u << 28)
#define RCC_PLLCFGR_R(divisor) (((divisor)-1u) << 29)

#define RCC_IOP_PORTS 0xFu /* A to D */
#define RCC_APB1_TIM2 (1u << 0)
#define RCC_APB1_FDCAN (1u << 12)
#define RCC_CCIPR2_FDCAN_PLLQ (1u << 8)

#define RESET_FLAGS RCC_CSR
#define RESET_FLAGS_REMOVE (1u << 23)
#define RESET_BY_SUPPLY (1u << 27) /* PWRRSTF: power-on and brown-out alike */
#define RESET_BY_WATCHDOG (1u << 29)

#define CHIP_CLOCK_PORTS() ((void)(RCC_IOPENR |= RCC_IOP_PORTS))
#define CHIP_CLOCK_TIM2() ((void)(RCC_APBENR1 |= RCC_APB1_TIM2))
#define CHIP_HOLD_CONTROLLERS() ((void)(RCC_APBRSTR1 |= RCC_APB1_FDCAN))
#define CHIP_CLOCK_INTERNAL() ((void)(RCC_CFGR &= ~RCC_CFGR_SW_MASK))

/* ---- Flash access control ("Embedded Flash memory") ---- */
#define FLASH_ACR REGISTER(0x40022000u)
#define FLASH_ACR_LATENCY_MASK 7u
#define FLASH_ACR_TWO_WAIT_STATES 2u /* 48 MHz < HCLK <= 64 MHz in range 1 */
#define FLASH_ACR_PREFETCH (1u << 8)

/* ---- Ports and lines ("General-purpose I/Os", "EXTI") ---- */
#define GPIO_A 0x50000000u
#define GPIO_B 0x50000400u
#define GPIO_C 0x50000800u
#define GPIO_D 0x50000C00u

#define EXTI_SOURCE(line) REGISTER(0x40021860u + 4u * ((line) / 4u)) /* EXTI_EXTICR */
#define EXTI_SOURCE_BITS 8u
#define EXTI_RTSR REGISTER(0x40021800u)
#define EXTI_FTSR REGISTER(0x40021804u)
#define EXTI_IMR REGISTER(0x40021880u)
#define EXTI_RPR REGISTER(0x4002180Cu)
#define EXTI_FPR REGISTER(0x40021810u)
#define EXTI_CLEAR(lines) ((void)(EXTI_RPR = (lines)), (void)(EXTI_FPR = (lines)))

#define IWDG 0x40003000u

/* ---- Positions in the vector table ("Nested vectored interrupt controller") ---- */
#define IRQ_TIM2 15u
/* EXTI0_1, EXTI2_3, EXTI4_15. */
#define CHIP_LINE_IRQS_0_31(lines)                                                                 \
    ((((lines)&0x3u) != 0u ? NVIC_BIT(5u) : 0u) | (((lines)&0xCu) != 0u ? NVIC_BIT(6u) : 0u) |     \
     (((lines)&0xFFF0u) != 0u ? NVIC_BIT(7u) : 0u))
#define CHIP_LINE_IRQS_32_63(lines) (0u * (lines))

/* ---- CAN controllers ("FD controller area network (FDCAN)") ---- */
#define FDCAN_BASE(bus) (0x40006400u + 0x400u * (bus))
#define FDCAN_IRQ(bus) (21u + 0u * (bus)) /* interrupt line 0 of both */
#define FDCAN_CONFIGURABLE 0
/* Laid out for good, the same for each controller. */
#define FDCAN_RAM(bus) (0x4000B400u + 0x350u * (bus))
#define FDCAN_RAM_STANDARD 0x000u
#define FDCAN_RAM_EXTENDED 0x070u
#define FDCAN_RAM_FIFO0 0x0B0u
#define FDCAN_RAM_TRANSMIT 0x278u

#define CHIP_CLOCK_CONTROLLERS()                                                                   \
    ((void)(RCC_CCIPR2 |= RCC_CCIPR2_FDCAN_PLLQ), (void)(RCC_APBENR1 |= RCC_APB1_FDCAN))

/* Receive, transmit (datasheet DS13560, "Alternate functions"). */
#define CAN1_PINS_PB8_PB9 CAN_PIN(B, 8, 3), CAN_PIN(B, 9, 3)
#define CAN1_PINS_PD0_PD1 CAN_PIN(D, 0, 3), CAN_PIN(D, 1, 3)
#define CAN2_PINS_PB0_PB1 CAN_PIN(B, 0, 3), CAN_PIN(B, 1, 3)
#define CAN2_PINS_PB5_PB6 CAN_PIN(B, 5, 3), CAN_PIN(B, 6, 3)
#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 3), CAN_PIN(B, 13, 3)

#endif
