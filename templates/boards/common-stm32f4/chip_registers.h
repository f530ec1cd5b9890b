/*
 * The STM32F405, F407 and F446 as this port uses them: addresses and bit positions after the
 * reference manuals RM0090 and RM0390 (chapter named at each block), compared with the maker's
 * stm32f405xx.h and stm32f446xx.h.
 */
#ifndef CHIP_REGISTERS_H
#define CHIP_REGISTERS_H

#include "core_registers.h"

#define CHIP_INTERNAL_MHZ 16u
#define CHIP_TIMER_MHZ CHIP_CORE_MHZ /* APB1 is divided by 2, so its timers run at twice that */
#define CHIP_SUPPLY_START() ((void)0)

/* ---- Reset and clock control ("Reset and clock control (RCC)") ---- */
#define RCC_CR REGISTER(0x40023800u)
#define RCC_PLLCFGR REGISTER(0x40023804u)
#define RCC_CFGR REGISTER(0x40023808u)
#define RCC_APB1RSTR REGISTER(0x40023820u)
#define RCC_AHB1ENR REGISTER(0x40023830u)
#define RCC_APB1ENR REGISTER(0x40023840u)
#define RCC_APB2ENR REGISTER(0x40023844u)
#define RCC_CSR REGISTER(0x40023874u)

#define RCC_CR_HSEON (1u << 16)
#define RCC_CR_HSERDY (1u << 17)
#define RCC_CR_CSSON (1u << 19) /* a crystal that stops raises the non-maskable interrupt */
#define RCC_CR_PLLON (1u << 24)
#define RCC_CR_PLLRDY (1u << 25)

#define RCC_PLLCFGR_M(divisor) (divisor)
#define RCC_PLLCFGR_N(factor) ((factor) << 6)
#define RCC_PLLCFGR_P_DIV4 (1u << 16)
#define RCC_PLLCFGR_HSE (1u << 22)
#define RCC_PLLCFGR_Q(divisor) ((divisor) << 24)
#define RCC_PLLCFGR_R(divisor) ((divisor) << 28) /* F446 */

#define RCC_CFGR_SW_MASK 3u
#define RCC_CFGR_SW_PLL 2u
#define RCC_CFGR_SWS_MASK (3u << 2)
#define RCC_CFGR_SWS_PLL (2u << 2)
#define RCC_CFGR_PPRE1_DIV2 (4u << 10)

#define RCC_AHB1_PORTS 7u /* A, B, C */
#define RCC_APB1_TIM2 (1u << 0)
#define RCC_APB1_CAN1 (1u << 25)
#define RCC_APB1_CAN2 (1u << 26)
#define RCC_APB2_SYSCFG (1u << 14)

#define RESET_FLAGS RCC_CSR
#define RESET_FLAGS_REMOVE (1u << 24)
#define RESET_BY_SUPPLY ((1u << 27) | (1u << 25)) /* PORRSTF, BORRSTF */
#define RESET_BY_WATCHDOG (1u << 29)

#define CHIP_CLOCK_PORTS()                                                                         \
    ((void)(RCC_AHB1ENR |= RCC_AHB1_PORTS), (void)(RCC_APB2ENR |= RCC_APB2_SYSCFG))
#define CHIP_CLOCK_TIM2() ((void)(RCC_APB1ENR |= RCC_APB1_TIM2))
/* The second controller has its filters from the first. */
#define CHIP_CLOCK_CONTROLLERS()                                                                   \
    ((void)(RCC_APB1ENR |= RCC_APB1_CAN1 | (LOCUM_BUSES > 1u ? RCC_APB1_CAN2 : 0u)))
#define CHIP_HOLD_CONTROLLERS() ((void)(RCC_APB1RSTR |= RCC_APB1_CAN1 | RCC_APB1_CAN2))
#define CHIP_CLOCK_INTERNAL() ((void)(RCC_CFGR &= ~RCC_CFGR_SW_MASK))

/* ---- Flash access control ("Embedded Flash memory interface") ---- */
#define FLASH_ACR REGISTER(0x40023C00u)
#define FLASH_ACR_TWO_WAIT_STATES 2u /* 60 MHz < HCLK <= 90 MHz from 2.7 V on */
#define FLASH_ACR_PREFETCH_CACHES (7u << 8)

/* ---- Ports and lines ("General-purpose I/Os", "SYSCFG", "EXTI") ---- */
#define GPIO_A 0x40020000u
#define GPIO_B 0x40020400u
#define GPIO_C 0x40020800u

#define EXTI_SOURCE(line) REGISTER(0x40013808u + 4u * ((line) / 4u)) /* SYSCFG_EXTICR */
#define EXTI_SOURCE_BITS 4u
#define EXTI_IMR REGISTER(0x40013C00u)
#define EXTI_RTSR REGISTER(0x40013C08u)
#define EXTI_FTSR REGISTER(0x40013C0Cu)
#define EXTI_PR REGISTER(0x40013C14u)
#define EXTI_CLEAR(lines) ((void)(EXTI_PR = (lines)))

#define IWDG 0x40003000u

/* ---- Positions in the vector table ("Interrupts and events") ---- */
#define IRQ_TIM2 28u
/* EXTI0 to EXTI4 from 6 on, EXTI9_5, EXTI15_10. */
#define CHIP_LINE_IRQS_0_31(lines)                                                                 \
    ((((lines)&0x1Fu) << 6) | (((lines)&0x3E0u) != 0u ? NVIC_BIT(23u) : 0u))
#define CHIP_LINE_IRQS_32_63(lines) (((lines)&0xFC00u) != 0u ? NVIC_BIT(40u) : 0u)

/* Receive, transmit (datasheets DS8626 and DS10693, "Alternate function mapping"). */
#define CAN1_PINS_PA11_PA12 CAN_PIN(A, 11, 9), CAN_PIN(A, 12, 9)
#define CAN1_PINS_PB8_PB9 CAN_PIN(B, 8, 9), CAN_PIN(B, 9, 9)
#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 9), CAN_PIN(B, 13, 9)
#define CAN2_PINS_PB5_PB6 CAN_PIN(B, 5, 9), CAN_PIN(B, 6, 9)

#endif
