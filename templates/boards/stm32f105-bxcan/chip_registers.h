/*
 * The STM32F105 and F107 as this port uses them: what they share with the F103, and what a pair of
 * controllers adds (RM0008, "Connectivity line devices", "GPIOs and AFIOs"), compared with the
 * maker's stm32f105xc.h.
 */
#ifndef CHIP_REGISTERS_H
#define CHIP_REGISTERS_H

#include "stm32f103_registers.h"

#define CHIP_INTERNAL_MHZ 8u
#define CHIP_SUPPLY_START() ((void)0)

#if CHIP_CRYSTAL_MHZ != 8
#error "The crystal has 8 MHz."
#endif

#define RESET_FLAGS RCC_CSR
#define RESET_FLAGS_REMOVE RCC_CSR_RMVF
#define RESET_BY_SUPPLY RCC_CSR_PORRSTF
#define RESET_BY_WATCHDOG RCC_CSR_IWDGRSTF

#define RCC_APB1_CAN2 (1u << 26)
#define CHIP_CLOCK_PORTS()                                                                         \
    ((void)(RCC_APB2ENR |= RCC_APB2_AFIO | RCC_APB2_PORT_A | RCC_APB2_PORT_B | RCC_APB2_PORT_C))
/* The second controller has its filters from the first. */
#define CHIP_CLOCK_CONTROLLERS()                                                                   \
    ((void)(RCC_APB1ENR |= RCC_APB1_CAN | (LOCUM_BUSES > 1u ? RCC_APB1_CAN2 : 0u)))
#define CHIP_HOLD_CONTROLLERS() ((void)(RCC_APB1RSTR |= RCC_APB1_CAN | RCC_APB1_CAN2))
#define CHIP_CLOCK_INTERNAL() ((void)(RCC_CFGR &= ~RCC_CFGR_SW_MASK))

/* Modes and pull resistors of pin_configure; here they are one field of four bits. */
#define GPIO_INPUT 0u
#define GPIO_OUTPUT 1u
#define GPIO_ALTERNATE 2u
#define GPIO_PULL_NONE 0u
#define GPIO_PULL_UP 1u
#define GPIO_PULL_DOWN 2u

#define AFIO_MAPR_CAN2_PB5_PB6 (1u << 22)

/* Receive, transmit, and which of the remappings they need: 1 and 2 stand for the two above. */
#define CAN1_PINS_PA11_PA12 CAN_PIN(A, 11, 0), CAN_PIN(A, 12, 0)
#define CAN1_PINS_PB8_PB9 CAN_PIN(B, 8, 1), CAN_PIN(B, 9, 1)
#define CAN2_PINS_PB12_PB13 CAN_PIN(B, 12, 0), CAN_PIN(B, 13, 0)
#define CAN2_PINS_PB5_PB6 CAN_PIN(B, 5, 2), CAN_PIN(B, 6, 2)

#endif
