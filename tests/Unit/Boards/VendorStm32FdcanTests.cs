using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>What surrounds the controllers of STM32 with FDCAN, and the message RAM, against values quoted from their maker's headers.</summary>
public sealed class VendorStm32FdcanTests
{
    private const string Function = "#define CAN_PIN(letter, bit, function) function\n";

    // STM32CubeG4, stm32g431xx.h and stm32g474xx.h: RCC_TypeDef and others (with offsets), ..._BASE, IRQn_Type, "Bit definition for RCC_... register".
    private static readonly (string Ours, long Theirs, string Name)[] s_g4 =
    [
        ("&RCC_CR", 0x40021000, "RCC_BASE, CR"),
        ("&RCC_CFGR", 0x40021000 + 0x08, "RCC CFGR"),
        ("&RCC_PLLCFGR", 0x40021000 + 0x0C, "RCC PLLCFGR"),
        ("&RCC_APB1RSTR1", 0x40021000 + 0x38, "RCC APB1RSTR1"),
        ("&RCC_AHB2ENR", 0x40021000 + 0x4C, "RCC AHB2ENR"),
        ("&RCC_APB1ENR1", 0x40021000 + 0x58, "RCC APB1ENR1"),
        ("&RCC_APB2ENR", 0x40021000 + 0x60, "RCC APB2ENR"),
        ("&RCC_CCIPR", 0x40021000 + 0x88, "RCC CCIPR"),
        ("&RCC_CSR", 0x40021000 + 0x94, "RCC CSR"),
        ("RCC_CR_HSEON", 0x00010000, "RCC_CR_HSEON_Msk"),
        ("RCC_CR_HSERDY", 0x00020000, "RCC_CR_HSERDY_Msk"),
        ("RCC_CR_CSSON", 0x00080000, "RCC_CR_CSSON_Msk"),
        ("RCC_CR_PLLON", 0x01000000, "RCC_CR_PLLON_Msk"),
        ("RCC_CR_PLLRDY", 0x02000000, "RCC_CR_PLLRDY_Msk"),
        ("RCC_CFGR_SW_MASK", 0x00000003, "RCC_CFGR_SW_Msk"),
        ("RCC_CFGR_SW_HSI", 0x00000001, "RCC_CFGR_SW_HSI"),
        ("RCC_CFGR_SW_PLL", 0x00000003, "RCC_CFGR_SW_PLL"),
        ("RCC_CFGR_SWS_MASK", 0x0000000C, "RCC_CFGR_SWS_Msk"),
        ("RCC_CFGR_SWS_PLL", 0x0000000C, "RCC_CFGR_SWS_PLL"),
        ("RCC_PLLCFGR_HSE", 0x00000003, "RCC_PLLCFGR_PLLSRC_HSE_Msk"),
        ("RCC_PLLCFGR_M(16u)", 0x000000F0, "RCC_PLLCFGR_PLLM_Msk"),
        ("RCC_PLLCFGR_N(127u)", 0x00007F00, "RCC_PLLCFGR_PLLN_Msk"),
        ("RCC_PLLCFGR_REN", 0x01000000, "RCC_PLLCFGR_PLLREN_Msk"),
        ("RCC_PLLCFGR_R_DIV4", 0x02000000, "RCC_PLLCFGR_PLLR_0"),
        ("RCC_AHB2_PORTS", 0x1 | 0x2 | 0x4, "RCC_AHB2ENR_GPIOAEN_Msk | ...B... | ...C..."),
        ("RCC_APB1_TIM2", 0x00000001, "RCC_APB1ENR1_TIM2EN_Msk"),
        ("RCC_APB1_FDCAN", 0x02000000, "RCC_APB1ENR1_FDCANEN_Msk, RCC_APB1RSTR1_FDCANRST_Msk"),
        ("RCC_APB2_SYSCFG", 0x00000001, "RCC_APB2ENR_SYSCFGEN_Msk"),
        ("RCC_CCIPR_FDCAN_PCLK1", 0x02000000, "RCC_CCIPR_FDCANSEL_1, RCC_FDCANCLKSOURCE_PCLK1 of stm32g4xx_hal_rcc_ex.h"),
        ("RESET_FLAGS_REMOVE", 0x00800000, "RCC_CSR_RMVF_Msk"),
        ("RESET_BY_SUPPLY", 0x08000000, "RCC_CSR_BORRSTF_Msk"),
        ("RESET_BY_WATCHDOG", 0x20000000, "RCC_CSR_IWDGRSTF_Msk"),
        ("&FLASH_ACR", 0x40022000, "FLASH_R_BASE, ACR"),
        ("FLASH_ACR_LATENCY_MASK", 0x0000000F, "FLASH_ACR_LATENCY_Msk"),
        ("FLASH_ACR_TWO_WAIT_STATES", 0x00000002, "FLASH_ACR_LATENCY_2WS"),
        ("FLASH_ACR_PREFETCH", 0x00000100, "FLASH_ACR_PRFTEN_Msk"),
        ("GPIO_A", 0x48000000, "GPIOA_BASE"),
        ("GPIO_B", 0x48000400, "GPIOB_BASE"),
        ("GPIO_C", 0x48000800, "GPIOC_BASE"),
        ("&EXTI_SOURCE(0u)", 0x40010000 + 0x08, "SYSCFG_BASE, EXTICR[0]"),
        ("&EXTI_SOURCE(15u)", 0x40010000 + 0x14, "SYSCFG EXTICR[3]"),
        ("&EXTI_IMR", 0x40010400, "EXTI_BASE, IMR1"),
        ("&EXTI_RTSR", 0x40010400 + 0x08, "EXTI RTSR1"),
        ("&EXTI_FTSR", 0x40010400 + 0x0C, "EXTI FTSR1"),
        ("&EXTI_PR", 0x40010400 + 0x14, "EXTI PR1"),
        ("IWDG", 0x40003000, "IWDG_BASE"),
        ("IRQ_TIM2", 28, "TIM2_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x20u)", 1 << 23, "EXTI9_5_IRQn"),
        ("CHIP_LINE_IRQS_32_63(0x400u)", 1 << (40 - 32), "EXTI15_10_IRQn"),
        ("FDCAN_BASE(0u)", 0x40006400, "FDCAN1_BASE"),
        ("FDCAN_BASE(1u)", 0x40006800, "FDCAN2_BASE"),
        ("FDCAN_BASE(2u)", 0x40006C00, "FDCAN3_BASE"),
        ("FDCAN_IRQ(0u)", 21, "FDCAN1_IT0_IRQn"),
        ("FDCAN_IRQ(1u)", 86, "FDCAN2_IT0_IRQn"),
        ("FDCAN_IRQ(2u)", 88, "FDCAN3_IT0_IRQn"),
        ("FDCAN_RAM(0u)", 0x4000A400, "SRAMCAN_BASE"),
        // stm32g4xx_hal_gpio_ex.h.
        ("(CAN1_PINS_PA11_PA12)", 0x09, "GPIO_AF9_FDCAN1"),
        ("(CAN2_PINS_PB5_PB6)", 0x09, "GPIO_AF9_FDCAN2"),
        ("(CAN3_PINS_PB3_PB4)", 0x0B, "GPIO_AF11_FDCAN3"),
    ];

    // STM32CubeG0, stm32g0b1xx.h: the same.
    private static readonly (string Ours, long Theirs, string Name)[] s_g0 =
    [
        ("&RCC_CR", 0x40021000, "RCC_BASE, CR"),
        ("&RCC_CFGR", 0x40021000 + 0x08, "RCC CFGR"),
        ("&RCC_PLLCFGR", 0x40021000 + 0x0C, "RCC PLLCFGR"),
        ("&RCC_APBRSTR1", 0x40021000 + 0x2C, "RCC APBRSTR1"),
        ("&RCC_IOPENR", 0x40021000 + 0x34, "RCC IOPENR"),
        ("&RCC_APBENR1", 0x40021000 + 0x3C, "RCC APBENR1"),
        ("&RCC_CCIPR2", 0x40021000 + 0x58, "RCC CCIPR2"),
        ("&RCC_CSR", 0x40021000 + 0x60, "RCC CSR"),
        ("RCC_CR_HSEON", 0x00010000, "RCC_CR_HSEON_Msk"),
        ("RCC_CR_HSERDY", 0x00020000, "RCC_CR_HSERDY_Msk"),
        ("RCC_CR_CSSON", 0x00080000, "RCC_CR_CSSON_Msk"),
        ("RCC_CR_PLLON", 0x01000000, "RCC_CR_PLLON_Msk"),
        ("RCC_CR_PLLRDY", 0x02000000, "RCC_CR_PLLRDY_Msk"),
        ("RCC_CFGR_SW_MASK", 0x00000007, "RCC_CFGR_SW_Msk"),
        ("RCC_CFGR_SW_PLL", 0x00000002, "RCC_CFGR_SW_1"),
        ("RCC_CFGR_SWS_MASK", 0x00000038, "RCC_CFGR_SWS_Msk"),
        ("RCC_CFGR_SWS_PLL", 0x00000010, "RCC_CFGR_SWS_PLL"),
        ("RCC_PLLCFGR_HSE", 0x00000003, "RCC_PLLCFGR_PLLSRC_HSE_Msk"),
        ("RCC_PLLCFGR_M(8u)", 0x00000070, "RCC_PLLCFGR_PLLM_Msk"),
        ("RCC_PLLCFGR_N(127u)", 0x00007F00, "RCC_PLLCFGR_PLLN_Msk"),
        ("RCC_PLLCFGR_QEN", 0x01000000, "RCC_PLLCFGR_PLLQEN_Msk"),
        ("RCC_PLLCFGR_Q(8u)", 0x0E000000, "RCC_PLLCFGR_PLLQ_Msk"),
        ("RCC_PLLCFGR_REN", 0x10000000, "RCC_PLLCFGR_PLLREN_Msk"),
        ("RCC_PLLCFGR_R(8u)", 0xE0000000, "RCC_PLLCFGR_PLLR_Msk"),
        ("RCC_IOP_PORTS", 0x1 | 0x2 | 0x4 | 0x8, "RCC_IOPENR_GPIOAEN_Msk to ...D..."),
        ("RCC_APB1_TIM2", 0x00000001, "RCC_APBENR1_TIM2EN_Msk"),
        ("RCC_APB1_FDCAN", 0x00001000, "RCC_APBENR1_FDCANEN_Msk, RCC_APBRSTR1_FDCANRST_Msk"),
        ("RCC_CCIPR2_FDCAN_PLLQ", 0x00000100, "RCC_CCIPR2_FDCANSEL_0, RCC_FDCANCLKSOURCE_PLL of stm32g0xx_hal_rcc_ex.h"),
        ("RESET_FLAGS_REMOVE", 0x00800000, "RCC_CSR_RMVF_Msk"),
        ("RESET_BY_SUPPLY", 0x08000000, "RCC_CSR_PWRRSTF_Msk"),
        ("RESET_BY_WATCHDOG", 0x20000000, "RCC_CSR_IWDGRSTF_Msk"),
        ("&FLASH_ACR", 0x40022000, "FLASH_R_BASE, ACR"),
        ("FLASH_ACR_LATENCY_MASK", 0x00000007, "FLASH_ACR_LATENCY_Msk"),
        ("FLASH_ACR_TWO_WAIT_STATES", 0x00000002, "FLASH_ACR_LATENCY_1"),
        ("FLASH_ACR_PREFETCH", 0x00000100, "FLASH_ACR_PRFTEN_Msk"),
        ("GPIO_A", 0x50000000, "IOPORT_BASE, GPIOA_BASE"),
        ("GPIO_B", 0x50000400, "GPIOB_BASE"),
        ("GPIO_C", 0x50000800, "GPIOC_BASE"),
        ("GPIO_D", 0x50000C00, "GPIOD_BASE"),
        ("&EXTI_RTSR", 0x40021800, "EXTI_BASE, RTSR1"),
        ("&EXTI_FTSR", 0x40021800 + 0x04, "EXTI FTSR1"),
        ("&EXTI_RPR", 0x40021800 + 0x0C, "EXTI RPR1"),
        ("&EXTI_FPR", 0x40021800 + 0x10, "EXTI FPR1"),
        ("&EXTI_SOURCE(0u)", 0x40021800 + 0x60, "EXTI EXTICR[0]"),
        ("&EXTI_SOURCE(15u)", 0x40021800 + 0x6C, "EXTI EXTICR[3]"),
        ("&EXTI_IMR", 0x40021800 + 0x80, "EXTI IMR1"),
        ("IWDG", 0x40003000, "IWDG_BASE"),
        ("IRQ_TIM2", 15, "TIM2_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x2u)", 1 << 5, "EXTI0_1_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x8u)", 1 << 6, "EXTI2_3_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x8000u)", 1 << 7, "EXTI4_15_IRQn"),
        ("FDCAN_BASE(0u)", 0x40006400, "FDCAN1_BASE"),
        ("FDCAN_BASE(1u)", 0x40006800, "FDCAN2_BASE"),
        ("FDCAN_IRQ(0u)", 21, "TIM16_FDCAN_IT0_IRQn: FDCAN1_IT0 and FDCAN2_IT0"),
        ("FDCAN_IRQ(1u)", 21, "TIM16_FDCAN_IT0_IRQn"),
        ("FDCAN_RAM(0u)", 0x4000B400, "SRAMCAN_BASE"),
        // stm32g0xx_hal_gpio_ex.h.
        ("(CAN1_PINS_PB8_PB9)", 0x03, "GPIO_AF3_FDCAN1"),
        ("(CAN2_PINS_PB5_PB6)", 0x03, "GPIO_AF3_FDCAN2"),
    ];

    // stm32g4xx_hal_fdcan.c: SRAMCAN_..., for chips that lay the RAM out.
    private static readonly (string Ours, long Theirs, string Name)[] s_ram =
    [
        ("FDCAN_RAM_STANDARD", 0, "SRAMCAN_FLSSA"),
        ("FDCAN_RAM_EXTENDED", 28 * 4, "SRAMCAN_FLESA"),
        ("FDCAN_RAM_FIFO0", 28 * 4 + 8 * 8, "SRAMCAN_RF0SA"),
        ("FDCAN_RAM_TRANSMIT", 28 * 4 + 8 * 8 + 3 * 72 + 3 * 72 + 3 * 8, "SRAMCAN_TFQSA, behind RF1 and TEF"),
        ("FDCAN_RAM(1u) - FDCAN_RAM(0u)", 28 * 4 + 8 * 8 + 3 * 72 + 3 * 72 + 3 * 8 + 3 * 72, "SRAMCAN_SIZE"),
    ];

    // The same file: FDCAN_ELEMENT_MASK_..., SRAMCAN_..._SIZE.
    private static readonly (string Ours, long Theirs, string Name)[] s_elements =
    [
        ("FDCAN_ELEMENT_BYTES", 18 * 4, "SRAMCAN_RF0_SIZE, SRAMCAN_TFQ_SIZE"),
        ("FDCAN_E0_EXTENDED", 0x40000000, "FDCAN_ELEMENT_MASK_XTD"),
        ("FDCAN_E0_REMOTE", 0x20000000, "FDCAN_ELEMENT_MASK_RTR"),
        ("FDCAN_E0_ID", 0x1FFFFFFF, "FDCAN_ELEMENT_MASK_EXTID"),
        ("0x7FFu << FDCAN_E0_STANDARD_SHIFT", 0x1FFC0000, "FDCAN_ELEMENT_MASK_STDID"),
        ("FDCAN_E1_FD", 0x00200000, "FDCAN_ELEMENT_MASK_FDF"),
        ("FDCAN_E1_SWITCH_RATE", 0x00100000, "FDCAN_ELEMENT_MASK_BRS"),
        ("FDCAN_E1_DLC_MASK << FDCAN_E1_DLC_SHIFT", 0x000F0000, "FDCAN_ELEMENT_MASK_DLC"),
    ];

    // Both kinds of controllers have the same elements.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Elements_look_as_their_maker_says(int configurable) =>
        VendorRegisterTests.Hold("common-fdcan", "fdcan_registers.h", s_elements, $"#define FDCAN_CONFIGURABLE {configurable}\n");

    [Fact]
    public void The_stm32g4s_lie_where_their_maker_says() => VendorRegisterTests.Hold("common-stm32g4", "chip_registers.h", [.. s_g4, .. s_ram], Function, "common-stm32");

    [Fact]
    public void The_stm32g0b1s_lie_where_its_maker_says() => VendorRegisterTests.Hold("stm32g0b1-fdcan", "chip_registers.h", [.. s_g0, .. s_ram], Function, "common-stm32");
}
