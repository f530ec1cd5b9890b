/*
 * The registers of the STM32F103 that this port uses: addresses and bit positions after the
 * reference manual RM0008 (chapter named at each block) and the core manual PM0056.
 */
#ifndef STM32F103_REGISTERS_H
#define STM32F103_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))

/* ---- Reset and clock control (RM0008, "Low-, medium-, high- and XL-density RCC") ---- */
#define RCC_CR REGISTER(0x40021000u)
#define RCC_CFGR REGISTER(0x40021004u)
#define RCC_APB1RSTR REGISTER(0x40021010u)
#define RCC_APB2ENR REGISTER(0x40021018u)
#define RCC_APB1ENR REGISTER(0x4002101Cu)
#define RCC_CSR REGISTER(0x40021024u)

#define RCC_CR_HSEON (1u << 16)
#define RCC_CR_HSERDY (1u << 17)
#define RCC_CR_CSSON (1u << 19) /* a crystal that stops raises the non-maskable interrupt */
#define RCC_CR_PLLON (1u << 24)
#define RCC_CR_PLLRDY (1u << 25)

#define RCC_CFGR_SW_MASK 3u
#define RCC_CFGR_SW_PLL 2u
#define RCC_CFGR_SWS_MASK (3u << 2)
#define RCC_CFGR_SWS_PLL (2u << 2)
#define RCC_CFGR_PPRE1_DIV2 (4u << 8)
#define RCC_CFGR_PLLSRC_HSE (1u << 16)
#define RCC_CFGR_PLLMUL_9 (7u << 18)

#define RCC_APB2_AFIO (1u << 0)
#define RCC_APB2_PORT_A (1u << 2)
#define RCC_APB2_PORT_B (1u << 3)
#define RCC_APB2_PORT_C (1u << 4)
#define RCC_APB1_TIM2 (1u << 0)
#define RCC_APB1_TIM3 (1u << 1)
#define RCC_APB1_CAN (1u << 25)

#define RCC_CSR_RMVF (1u << 24)    /* written 1 clears the flags below */
#define RCC_CSR_PORRSTF (1u << 27) /* supply: power-on and brown-out alike */
#define RCC_CSR_IWDGRSTF (1u << 29)

/* ---- Flash access control (RM0008, "Reading the Flash memory"; PM0075) ---- */
#define FLASH_ACR REGISTER(0x40022000u)
#define FLASH_ACR_TWO_WAIT_STATES 2u /* 48 MHz < SYSCLK <= 72 MHz */
#define FLASH_ACR_PREFETCH (1u << 4)

/* ---- Ports and alternate functions (RM0008, "GPIOs and AFIOs") ---- */
#define GPIO_A 0x40010800u
#define GPIO_B 0x40010C00u
#define GPIO_C 0x40011000u
#define GPIO_CRL(port) REGISTER((port) + 0x00u) /* four bits per pin, pins 0..7; CRH: 8..15 */
#define GPIO_IDR(port) REGISTER((port) + 0x08u)
#define GPIO_BSRR(port) REGISTER((port) + 0x10u) /* bit n sets pin n, bit n + 16 clears it */

#define GPIO_INPUT_FLOATING 0x4u
#define GPIO_INPUT_PULLED 0x8u     /* up with ODR 1, down with ODR 0 */
#define GPIO_OUTPUT_SLOW 0x2u      /* push-pull, 2 MHz */
#define GPIO_ALTERNATE_OUTPUT 0xBu /* push-pull, 50 MHz */

#define AFIO_MAPR REGISTER(0x40010004u)
#define AFIO_EXTICR(line) REGISTER(0x40010008u + 4u * ((line) / 4u)) /* four bits per line */
#define AFIO_MAPR_CAN_PB8_PB9 (2u << 13)
#define AFIO_MAPR_SWD_ONLY (2u << 24) /* serial wire debug stays, JTAG pins are free */

/* ---- External interrupts (RM0008, "External interrupt/event controller") ---- */
#define EXTI_IMR REGISTER(0x40010400u)
#define EXTI_RTSR REGISTER(0x40010408u)
#define EXTI_FTSR REGISTER(0x4001040Cu)
#define EXTI_PR REGISTER(0x40010414u) /* written 1 clears */

/* ---- General-purpose timers (RM0008, "General-purpose timers (TIM2 to TIM5)") ---- */
#define TIM2 0x40000000u
#define TIM3 0x40000400u
#define TIM_CR1(timer) REGISTER((timer) + 0x00u)
#define TIM_CR2(timer) REGISTER((timer) + 0x04u)
#define TIM_SMCR(timer) REGISTER((timer) + 0x08u)
#define TIM_DIER(timer) REGISTER((timer) + 0x0Cu)
#define TIM_SR(timer) REGISTER((timer) + 0x10u) /* written 0 clears */
#define TIM_EGR(timer) REGISTER((timer) + 0x14u)
#define TIM_CNT(timer) REGISTER((timer) + 0x24u)
#define TIM_PSC(timer) REGISTER((timer) + 0x28u)
#define TIM_ARR(timer) REGISTER((timer) + 0x2Cu)
#define TIM_CCR1(timer) REGISTER((timer) + 0x34u)

#define TIM_CR1_CEN 1u
#define TIM_CR2_TRGO_UPDATE (2u << 4)
#define TIM_SMCR_ITR1_CLOCKS 0x17u /* TS 001: TIM3 sees TIM2; SMS 111: clocked by it */
#define TIM_CC1 (1u << 1)          /* CC1IE, CC1IF */
#define TIM_EGR_UG 1u

/* ---- Independent watchdog (RM0008, "Independent watchdog") ---- */
#define IWDG_KR REGISTER(0x40003000u)
#define IWDG_PR REGISTER(0x40003004u)
#define IWDG_RLR REGISTER(0x40003008u)
#define IWDG_KEY_FEED 0xAAAAu
#define IWDG_KEY_UNLOCK 0x5555u
#define IWDG_KEY_START 0xCCCCu
#define IWDG_PR_DIV32 3u

/* ---- Controller area network (RM0008, "Controller area network (bxCAN)") ---- */
#define CAN_MCR REGISTER(0x40006400u)
#define CAN_MSR REGISTER(0x40006404u)
#define CAN_TSR REGISTER(0x40006408u)
#define CAN_RF0R REGISTER(0x4000640Cu)
#define CAN_IER REGISTER(0x40006414u)
#define CAN_ESR REGISTER(0x40006418u)
#define CAN_BTR REGISTER(0x4000641Cu)
#define CAN_TIR(mailbox) REGISTER(0x40006580u + 16u * (mailbox))
#define CAN_TDTR(mailbox) REGISTER(0x40006584u + 16u * (mailbox))
#define CAN_TDLR(mailbox) REGISTER(0x40006588u + 16u * (mailbox))
#define CAN_TDHR(mailbox) REGISTER(0x4000658Cu + 16u * (mailbox))
#define CAN_RI0R REGISTER(0x400065B0u)
#define CAN_RDT0R REGISTER(0x400065B4u)
#define CAN_RDL0R REGISTER(0x400065B8u)
#define CAN_RDH0R REGISTER(0x400065BCu)
#define CAN_FMR REGISTER(0x40006600u)
#define CAN_FM1R REGISTER(0x40006604u)
#define CAN_FS1R REGISTER(0x4000660Cu)
#define CAN_FFA1R REGISTER(0x40006614u)
#define CAN_FA1R REGISTER(0x4000661Cu)
#define CAN_FR1(bank) REGISTER(0x40006640u + 8u * (bank))
#define CAN_FR2(bank) REGISTER(0x40006644u + 8u * (bank))

#define CAN_MCR_INRQ (1u << 0)
#define CAN_MCR_ABOM (1u << 6) /* leaves bus-off by itself after 128 x 11 recessive bits */
#define CAN_MSR_INAK (1u << 0)
#define CAN_MSR_SLAK (1u << 1)
#define CAN_MSR_ERRI (1u << 2) /* an error that CAN_IER names; written 1 clears */
#define CAN_TSR_RQCP_ALL 0x00010101u
#define CAN_TSR_ABRQ_ALL 0x00808080u
#define CAN_TSR_TME(mailbox) (1u << (26u + (mailbox)))
#define CAN_RF0R_FMP 3u         /* frames in the FIFO */
#define CAN_RF0R_FOVR (1u << 4) /* written 1 clears */
#define CAN_RF0R_RFOM (1u << 5) /* written 1 releases; 0 again when done */
#define CAN_IER_TMEIE (1u << 0)
#define CAN_IER_FMPIE0 (1u << 1)
#define CAN_IER_BOFIE (1u << 10)
#define CAN_IER_ERRIE (1u << 15)
#define CAN_ESR_EPVF (1u << 1)
#define CAN_ESR_BOFF (1u << 2)
#define CAN_TIR_TXRQ (1u << 0)
#define CAN_TIR_IDE (1u << 2)
#define CAN_TIR_EXTENDED_SHIFT 3u
#define CAN_TIR_STANDARD_SHIFT 21u
#define CAN_RIR_RTR (1u << 1)
#define CAN_RIR_IDE (1u << 2)
#define CAN_RIR_EXTENDED_SHIFT 3u
#define CAN_RIR_STANDARD_SHIFT 21u
#define CAN_RDTR_DLC 0xFu
#define CAN_FMR_FINIT (1u << 0)

/* ---- Interrupt controller (PM0056, "Nested vectored interrupt controller") ---- */
#define NVIC_ISER(irq) REGISTER(0xE000E100u + 4u * ((irq) / 32u))
#define NVIC_ICPR(irq) REGISTER(0xE000E280u + 4u * ((irq) / 32u))
#define NVIC_BIT(irq) (1u << ((irq) % 32u))

/* Positions in the vector table (RM0008, "Interrupt and exception vectors"). */
#define IRQ_EXTI0 6u /* lines 0 to 4 have one each */
#define IRQ_CAN_TX 19u
#define IRQ_CAN_RX0 20u
#define IRQ_CAN_SCE 22u
#define IRQ_EXTI9_5 23u
#define IRQ_TIM2 28u
#define IRQ_EXTI15_10 40u
#define IRQ_COUNT 43u /* medium density */

#endif
