/*
 * The STM32H743 as this port uses it: addresses and bit positions after the reference manual RM0433
 * (chapter named at each block), compared with the maker's stm32h743xx.h.
 */
#ifndef CHIP_REGISTERS_H
#define CHIP_REGISTERS_H

#include "core_registers.h"

#define CHIP_INTERNAL_MHZ 64u
#define CHIP_TIMER_MHZ 80u /* APB1 is divided by 2, so its timers run at twice 40 MHz */

/*
 * The regulator supplies the core; until that has been written and the supply has settled nothing
 * else may be set ("Power control (PWR)"). The vectors are at the beginning of the flash.
 */
#define PWR_CSR1 REGISTER(0x58024804u)
#define PWR_CR3 REGISTER(0x5802480Cu)
#define PWR_CR3_REGULATOR 2u
#define PWR_CSR1_ACTVOSRDY (1u << 13)
#define SCB_VTOR REGISTER(0xE000ED08u)
#define CHIP_SUPPLY_START()                                                                        \
    do {                                                                                           \
        PWR_CR3 = PWR_CR3_REGULATOR;                                                               \
        while ((PWR_CSR1 & PWR_CSR1_ACTVOSRDY) == 0u) {                                            \
        }                                                                                          \
        SCB_VTOR = 0x08000000u;                                                                    \
    } while (0)

/* ---- Reset and clock control ("Reset and Clock Control (RCC)") ---- */
#define RCC_CR REGISTER(0x58024400u)
#define RCC_CFGR REGISTER(0x58024410u)
#define RCC_D2CFGR REGISTER(0x5802441Cu)
#define RCC_PLLCKSELR REGISTER(0x58024428u)
#define RCC_PLLCFGR REGISTER(0x5802442Cu)
#define RCC_PLL1DIVR REGISTER(0x58024430u)
#define RCC_D2CCIP1R REGISTER(0x58024450u)
#define RCC_APB1HRSTR REGISTER(0x58024494u)
#define RCC_RSR REGISTER(0x580244D0u)
#define RCC_AHB4ENR REGISTER(0x580244E0u)
#define RCC_APB1LENR REGISTER(0x580244E8u)
#define RCC_APB1HENR REGISTER(0x580244ECu)
#define RCC_APB4ENR REGISTER(0x580244F4u)

#define RCC_CR_HSEON (1u << 16)
#define RCC_CR_HSERDY (1u << 17)
#define RCC_CR_CSSON (1u << 19) /* a crystal that stops raises the non-maskable interrupt */
#define RCC_CR_PLLON (1u << 24)
#define RCC_CR_PLLRDY (1u << 25)

#define RCC_CFGR_SW_MASK 7u
#define RCC_CFGR_SW_HSI 0u
#define RCC_CFGR_SW_PLL 3u
#define RCC_CFGR_SWS_MASK (7u << 3)
#define RCC_CFGR_SWS_PLL (3u << 3)
#define RCC_D2CFGR_APB1_DIV2 (4u << 4)

#define RCC_PLLCKSELR_HSE 2u
#define RCC_PLLCKSELR_M1(divisor) ((divisor) << 4)
#define RCC_PLLCFGR_MEDIUM (1u << 1) /* oscillator of 150 to 420 MHz, input 1 to 2 MHz */
#define RCC_PLLCFGR_P1 (1u << 16)
#define RCC_PLLCFGR_Q1 (1u << 17)
#define RCC_PLL1DIVR_N(factor) ((factor)-1u)
#define RCC_PLL1DIVR_P(divisor) (((divisor)-1u) << 9)
#define RCC_PLL1DIVR_Q(divisor) (((divisor)-1u) << 16)

#define RCC_AHB4_PORTS 7u /* A, B, C */
#define RCC_APB1L_TIM2 (1u << 0)
#define RCC_APB1H_FDCAN (1u << 8)
#define RCC_APB4_SYSCFG (1u << 1)
#define RCC_D2CCIP1R_FDCAN_PLL1Q (1u << 28)

#define RESET_FLAGS RCC_RSR
#define RESET_FLAGS_REMOVE (1u << 16)
#define RESET_BY_SUPPLY ((1u << 23) | (1u << 21)) /* PORRSTF, BORRSTF */
#define RESET_BY_WATCHDOG (1u << 26)

#define CHIP_CLOCK_PORTS()                                                                         \
    ((void)(RCC_AHB4ENR |= RCC_AHB4_PORTS), (void)(RCC_APB4ENR |= RCC_APB4_SYSCFG))
#define CHIP_CLOCK_TIM2() ((void)(RCC_APB1LENR |= RCC_APB1L_TIM2))
#define CHIP_HOLD_CONTROLLERS() ((void)(RCC_APB1HRSTR |= RCC_APB1H_FDCAN))
#define CHIP_CLOCK_INTERNAL() ((void)(RCC_CFGR &= ~RCC_CFGR_SW_MASK))

/* ---- Flash access control ("Embedded flash memory") ---- */
#define FLASH_ACR REGISTER(0x52002000u)
#define FLASH_ACR_ONE_WAIT_STATE 0x11u /* 45 MHz < AXI clock <= 90 MHz at scale 3 */

/* ---- Ports and lines ("General-purpose I/Os", "SYSCFG", "EXTI") ---- */
#define GPIO_A 0x58020000u
#define GPIO_B 0x58020400u
#define GPIO_C 0x58020800u

#define EXTI_SOURCE(line) REGISTER(0x58000408u + 4u * ((line) / 4u)) /* SYSCFG_EXTICR */
#define EXTI_SOURCE_BITS 4u
#define EXTI_RTSR REGISTER(0x58000000u)
#define EXTI_FTSR REGISTER(0x58000004u)
#define EXTI_IMR REGISTER(0x58000080u) /* CPUIMR1 */
#define EXTI_PR REGISTER(0x58000088u)  /* CPUPR1 */
#define EXTI_CLEAR(lines) ((void)(EXTI_PR = (lines)))

#define IWDG 0x58004800u

/* ---- Positions in the vector table ("Nested vectored interrupt controllers") ---- */
#define IRQ_TIM2 28u
/* EXTI0 to EXTI4 from 6 on, EXTI9_5, EXTI15_10. */
#define CHIP_LINE_IRQS_0_31(lines)                                                                 \
    ((((lines)&0x1Fu) << 6) | (((lines)&0x3E0u) != 0u ? NVIC_BIT(23u) : 0u))
#define CHIP_LINE_IRQS_32_63(lines) (((lines)&0xFC00u) != 0u ? NVIC_BIT(40u) : 0u)

/* ---- CAN controllers ("FD Controller Area Network (FDCAN)") ---- */
#define FDCAN_BASE(bus) (0x4000A000u + 0x400u * (bus))
#define FDCAN_IRQ(bus) (19u + (bus)) /* interrupt line 0 of each */
#define FDCAN_CONFIGURABLE 1
/* The port lays the message RAM out: so much for each controller. */
#define FDCAN_RAM(bus) (0x4000AC00u + 0x800u * (bus))
#define FDCAN_RAM_STANDARD 0x000u /* 28 words */
#define FDCAN_RAM_EXTENDED 0x070u /* 8 elements of two words */
#define FDCAN_RAM_FIFO0 0x0B0u
#define FDCAN_FIFO_DEPTH 16u
#define FDCAN_RAM_TRANSMIT (FDCAN_RAM_FIFO0 + 72u * FDCAN_FIFO_DEPTH)

#define CHIP_CLOCK_CONTROLLERS()                                                                   \
    ((void)(RCC_D2CCIP1R |= RCC_D2CCIP1R_FDCAN_PLL1Q), (void)(RCC_APB1HENR |= RCC_APB1H_FDCAN))

/* Receive, transmit (datasheet DS12110, "Alternate functions"). */
#define CAN1_PINS_PA11_PA12 CAN_PIN(A, 11, 9), CAN_PIN(A, 12, 9)
#define CAN1_PINS_PB8_PB9 CAN_PIN(B, 8, 9), CAN_PIN(B, 9, 9)
#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 9), CAN_PIN(B, 13, 9)
#define CAN2_PINS_PB5_PB6 CAN_PIN(B, 5, 9), CAN_PIN(B, 6, 9)

#endif
