/*
 * Registers that the newer STM32 have in common: ports with a mode register, TIM2 with 32 bits, the
 * independent watchdog, the core's interrupt controller. Offsets and bits after the reference
 * manuals' chapters "GPIOs", "General-purpose timers", "Independent watchdog" and the programming
 * manuals of the cores, compared with the maker's device headers and CMSIS. Included by
 * chip_registers.h.
 */
#ifndef CORE_REGISTERS_H
#define CORE_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))

/* ---- Ports ---- */
#define GPIO_MODER(port) REGISTER((port) + 0x00u)   /* two bits per pin */
#define GPIO_OSPEEDR(port) REGISTER((port) + 0x08u) /* two bits per pin */
#define GPIO_PUPDR(port) REGISTER((port) + 0x0Cu)   /* two bits per pin */
#define GPIO_IDR(port) REGISTER((port) + 0x10u)
#define GPIO_BSRR(port) REGISTER((port) + 0x18u) /* bit n sets pin n, bit n + 16 clears it */
#define GPIO_AFR(port, bit) REGISTER((port) + 0x20u + 4u * ((bit) / 8u)) /* four bits per pin */

#define GPIO_INPUT 0u
#define GPIO_OUTPUT 1u
#define GPIO_ALTERNATE 2u
#define GPIO_PULL_NONE 0u
#define GPIO_PULL_UP 1u
#define GPIO_PULL_DOWN 2u
#define GPIO_SPEED_FAST 2u

/* ---- TIM2 ---- */
#define TIM2 0x40000000u
#define TIM_CR1(timer) REGISTER((timer) + 0x00u)
#define TIM_DIER(timer) REGISTER((timer) + 0x0Cu)
#define TIM_SR(timer) REGISTER((timer) + 0x10u) /* written 0 clears */
#define TIM_EGR(timer) REGISTER((timer) + 0x14u)
#define TIM_CNT(timer) REGISTER((timer) + 0x24u)
#define TIM_PSC(timer) REGISTER((timer) + 0x28u)
#define TIM_ARR(timer) REGISTER((timer) + 0x2Cu)
#define TIM_CCR1(timer) REGISTER((timer) + 0x34u)

#define TIM_CR1_CEN 1u
#define TIM_CC1 (1u << 1) /* CC1IE, CC1IF */
#define TIM_EGR_UG 1u

/* ---- Independent watchdog ---- */
#define IWDG_KR REGISTER(IWDG + 0x00u)
#define IWDG_PR REGISTER(IWDG + 0x04u)
#define IWDG_RLR REGISTER(IWDG + 0x08u)
#define IWDG_KEY_FEED 0xAAAAu
#define IWDG_KEY_UNLOCK 0x5555u
#define IWDG_KEY_START 0xCCCCu
#define IWDG_PR_DIV32 3u

/* ---- Interrupt controller ---- */
#define NVIC_ISER(irq) REGISTER(0xE000E100u + 4u * ((irq) / 32u))
#define NVIC_ICPR(irq) REGISTER(0xE000E280u + 4u * ((irq) / 32u))
#define NVIC_BIT(irq) (1u << ((irq) % 32u))

#endif
