/*
 * The STM32G431 and G474 as this port uses them: addresses and bit positions after the reference
 * manual RM0440 (chapter named at each block), compared with the maker's stm32g431xx.h and
 * stm32g474xx.h.
 */
#ifndef CHIP_REGISTERS_H
#define CHIP_REGISTERS_H

#include "core_registers.h"

#define CHIP_INTERNAL_MHZ 16u
#define CHIP_TIMER_MHZ 80u /* APB1 is not divided */
#define CHIP_SUPPLY_START() ((void)0)

/* ---- Reset and clock control ("Reset and clock control (RCC)") ---- */
#define RCC_CR REGISTER(0x40021000u)
#define RCC_CFGR REGISTER(0x40021008u)
#define RCC_PLLCFGR REGISTER(0x4002100Cu)
#define RCC_APB1RSTR1 REGISTER(0x40021038u)
#define RCC_AHB2ENR REGISTER(0x4002104Cu)
#define RCC_APB1ENR1 REGISTER(0x40021058u)
#define RCC_APB2ENR REGISTER(0x40021060u)
#define RCC_CCIPR REGISTER(0x40021088u)
#define RCC_CSR REGISTER(0x40021094u)

#define RCC_CR_HSEON (1u << 16)
#define RCC_CR_HSERDY (1u << 17)
#define RCC_CR_CSSON (1u << 19) /* a crystal that stops raises the non-maskable interrupt */
#define RCC_CR_PLLON (1u << 24)
#define RCC_CR_PLLRDY (1u << 25)

#define RCC_CFGR_SW_MASK 3u
#define RCC_CFGR_SW_HSI 1u
#define RCC_CFGR_SW_PLL 3u
#define RCC_CFGR_SWS_MASK (3u << 2)
#define RCC_CFGR_SWS_PLL (3u << 2)

#define RCC_PLLCFGR_HSE 3u
#define RCC_PLLCFGR_M(divisor) (((divisor)-1u) << 4)
#define RCC_PLLCFGR_N(factor) ((factor) << 8)
#define RCC_PLLCFGR_REN (1u << 24)
#define RCC_PLLCFGR_R_DIV4 (1u << 25)

#define RCC_AHB2_PORTS 7u /* A, B, C */
#define RCC_APB1_TIM2 (1u << 0)
#define RCC_APB1_FDCAN (1u << 25)
#define RCC_APB2_SYSCFG (1u << 0)
#define RCC_CCIPR_FDCAN_PCLK1 (2u << 24)

#define RESET_FLAGS RCC_CSR
#define RESET_FLAGS_REMOVE (1u << 23)
#define RESET_BY_SUPPLY (1u << 27) /* BORRSTF: power-on and brown-out alike */
#define RESET_BY_WATCHDOG (1u << 29)

#define CHIP_CLOCK_PORTS()                                                                         \
    ((void)(RCC_AHB2ENR |= RCC_AHB2_PORTS), (void)(RCC_APB2ENR |= RCC_APB2_SYSCFG))
#define CHIP_CLOCK_TIM2() ((void)(RCC_APB1ENR1 |= RCC_APB1_TIM2))
#define CHIP_HOLD_CONTROLLERS() ((void)(RCC_APB1RSTR1 |= RCC_APB1_FDCAN))
#define CHIP_CLOCK_INTERNAL() ((void)(RCC_CFGR = (RCC_CFGR & ~RCC_CFGR_SW_MASK) | RCC_CFGR_SW_HSI))

/* ---- Flash access control ("Embedded flash memory") ---- */
#define FLASH_ACR REGISTER(0x40022000u)
#define FLASH_ACR_LATENCY_MASK 0xFu
#define FLASH_ACR_TWO_WAIT_STATES 2u /* 60 MHz < HCLK <= 90 MHz in range 1 */
#define FLASH_ACR_PREFETCH (1u << 8)

/* ---- Ports and lines ("General-purpose I/Os", "SYSCFG", "EXTI") ---- */
#define GPIO_A 0x48000000u
#define GPIO_B 0x48000400u
#define GPIO_C 0x48000800u

#define EXTI_SOURCE(line) REGISTER(0x40010008u + 4u * ((line) / 4u)) /* SYSCFG_EXTICR */
#define EXTI_SOURCE_BITS 4u
#define EXTI_IMR REGISTER(0x40010400u)
#define EXTI_RTSR REGISTER(0x40010408u)
#define EXTI_FTSR REGISTER(0x4001040Cu)
#define EXTI_PR REGISTER(0x40010414u)
#define EXTI_CLEAR(lines) ((void)(EXTI_PR = (lines)))

#define IWDG 0x40003000u

/* ---- Positions in the vector table ("Nested vectored interrupt controller") ---- */
#define IRQ_TIM2 28u
/* EXTI0 to EXTI4 from 6 on, EXTI9_5, EXTI15_10. */
#define CHIP_LINE_IRQS_0_31(lines)                                                                 \
    ((((lines)&0x1Fu) << 6) | (((lines)&0x3E0u) != 0u ? NVIC_BIT(23u) : 0u))
#define CHIP_LINE_IRQS_32_63(lines) (((lines)&0xFC00u) != 0u ? NVIC_BIT(40u) : 0u)

/* ---- CAN controllers ("FD controller area network (FDCAN)") ---- */
#define FDCAN_BASE(bus) (0x40006400u + 0x400u * (bus))
#define FDCAN_IRQ(bus) ((bus) == 0u ? 21u : 84u + 2u * (bus)) /* interrupt line 0 of each */
#define FDCAN_CONFIGURABLE 0
/* Laid out for good, the same for each controller. */
#define FDCAN_RAM(bus) (0x4000A400u + 0x350u * (bus))
#define FDCAN_RAM_STANDARD 0x000u
#define FDCAN_RAM_EXTENDED 0x070u
#define FDCAN_RAM_FIFO0 0x0B0u
#define FDCAN_RAM_TRANSMIT 0x278u

#define CHIP_CLOCK_CONTROLLERS()                                                                   \
    ((void)(RCC_APB1ENR1 |= RCC_APB1_FDCAN), (void)(RCC_CCIPR |= RCC_CCIPR_FDCAN_PCLK1))

/* Receive, transmit (datasheets DS12589 and DS12288, "Alternate function"). */
#define CAN1_PINS_PA11_PA12 CAN_PIN(A, 11, 9), CAN_PIN(A, 12, 9)
#define CAN1_PINS_PB8_PB9 CAN_PIN(B, 8, 9), CAN_PIN(B, 9, 9)
#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 9), CAN_PIN(B, 13, 9)
#define CAN2_PINS_PB5_PB6 CAN_PIN(B, 5, 9), CAN_PIN(B, 6, 9)
#define CAN3_PINS_PA8_PA15 CAN_PIN(A, 8, 11), CAN_PIN(A, 15, 11)
#define CAN3_PINS_PB3_PB4 CAN_PIN(B, 3, 11), CAN_PIN(B, 4, 11)

#endif
