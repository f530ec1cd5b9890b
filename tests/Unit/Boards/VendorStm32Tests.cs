using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>What surrounds the controllers of STM32 with a bxCAN, and what all newer STM32 share, against values quoted from their maker's headers.</summary>
public sealed class VendorStm32Tests
{
    // STM32CubeF4's device header stm32f405xx.h: GPIO_TypeDef, TIM_TypeDef, IWDG_TypeDef (with offsets), TIM2_BASE, "Bit definition for TIM_... register".
    // stm32g474xx.h and stm32g0b1xx.h have the same structures. Base 0 for what a chip places. CMSIS, core_cm4.h: NVIC_Type, NVIC_BASE.
    private static readonly (string Ours, long Theirs, string Name)[] s_core =
    [
        ("&GPIO_MODER(0)", 0x00, "GPIO MODER"),
        ("&GPIO_OSPEEDR(0)", 0x08, "GPIO OSPEEDR"),
        ("&GPIO_PUPDR(0)", 0x0C, "GPIO PUPDR"),
        ("&GPIO_IDR(0)", 0x10, "GPIO IDR"),
        ("&GPIO_BSRR(0)", 0x18, "GPIO BSRR"),
        ("&GPIO_AFR(0, 7u)", 0x20, "GPIO AFR[0]"),
        ("&GPIO_AFR(0, 8u)", 0x24, "GPIO AFR[1]"),
        ("TIM2", 0x40000000, "TIM2_BASE"),
        ("&TIM_CR1(0)", 0x00, "TIM CR1"),
        ("&TIM_DIER(0)", 0x0C, "TIM DIER"),
        ("&TIM_SR(0)", 0x10, "TIM SR"),
        ("&TIM_EGR(0)", 0x14, "TIM EGR"),
        ("&TIM_CNT(0)", 0x24, "TIM CNT"),
        ("&TIM_PSC(0)", 0x28, "TIM PSC"),
        ("&TIM_ARR(0)", 0x2C, "TIM ARR"),
        ("&TIM_CCR1(0)", 0x34, "TIM CCR1"),
        ("TIM_CR1_CEN", 0x1, "TIM_CR1_CEN"),
        ("TIM_CC1", 0x2, "TIM_DIER_CC1IE, TIM_SR_CC1IF"),
        ("TIM_EGR_UG", 0x1, "TIM_EGR_UG"),
        ("&IWDG_KR", 0x00, "IWDG KR"),
        ("&IWDG_PR", 0x04, "IWDG PR"),
        ("&IWDG_RLR", 0x08, "IWDG RLR"),
        ("&NVIC_ISER(0u)", 0xE000E000 + 0x0100, "SCS_BASE, NVIC_BASE, ISER[0]"),
        ("&NVIC_ISER(95u)", 0xE000E000 + 0x0100 + 2 * 4, "NVIC ISER[2]"),
        ("&NVIC_ICPR(32u)", 0xE000E000 + 0x0100 + 0x180 + 4, "NVIC ICPR[1]"),
    ];

    // stm32f405xx.h and stm32f446xx.h: RCC_TypeDef and others, ..._BASE, IRQn_Type, "Bit definition for RCC_... register";
    // bits by the names of the releases that had no ..._Msk.
    private static readonly (string Ours, long Theirs, string Name)[] s_f4 =
    [
        ("&RCC_CR", 0x40023800, "RCC_BASE, CR"),
        ("&RCC_PLLCFGR", 0x40023800 + 0x04, "RCC PLLCFGR"),
        ("&RCC_CFGR", 0x40023800 + 0x08, "RCC CFGR"),
        ("&RCC_APB1RSTR", 0x40023800 + 0x20, "RCC APB1RSTR"),
        ("&RCC_AHB1ENR", 0x40023800 + 0x30, "RCC AHB1ENR"),
        ("&RCC_APB1ENR", 0x40023800 + 0x40, "RCC APB1ENR"),
        ("&RCC_APB2ENR", 0x40023800 + 0x44, "RCC APB2ENR"),
        ("&RCC_CSR", 0x40023800 + 0x74, "RCC CSR"),
        ("RCC_CR_HSEON", 0x00010000, "RCC_CR_HSEON"),
        ("RCC_CR_HSERDY", 0x00020000, "RCC_CR_HSERDY"),
        ("RCC_CR_CSSON", 0x00080000, "RCC_CR_CSSON"),
        ("RCC_CR_PLLON", 0x01000000, "RCC_CR_PLLON"),
        ("RCC_CR_PLLRDY", 0x02000000, "RCC_CR_PLLRDY"),
        ("RCC_PLLCFGR_M(0x3Fu)", 0x0000003F, "RCC_PLLCFGR_PLLM"),
        ("RCC_PLLCFGR_N(0x1FFu)", 0x00007FC0, "RCC_PLLCFGR_PLLN"),
        ("RCC_PLLCFGR_P_DIV4", 0x00010000, "RCC_PLLCFGR_PLLP_0"),
        ("RCC_PLLCFGR_HSE", 0x00400000, "RCC_PLLCFGR_PLLSRC_HSE"),
        ("RCC_PLLCFGR_Q(15u)", 0x0F000000, "RCC_PLLCFGR_PLLQ"),
        ("RCC_PLLCFGR_R(7u)", 0x70000000, "RCC_PLLCFGR_PLLR, stm32f446xx.h"),
        ("RCC_CFGR_SW_MASK", 0x00000003, "RCC_CFGR_SW"),
        ("RCC_CFGR_SW_PLL", 0x00000002, "RCC_CFGR_SW_PLL"),
        ("RCC_CFGR_SWS_MASK", 0x0000000C, "RCC_CFGR_SWS"),
        ("RCC_CFGR_SWS_PLL", 0x00000008, "RCC_CFGR_SWS_PLL"),
        ("RCC_CFGR_PPRE1_DIV2", 0x00001000, "RCC_CFGR_PPRE1_DIV2"),
        ("RCC_AHB1_PORTS", 0x1 | 0x2 | 0x4, "RCC_AHB1ENR_GPIOAEN | ...B... | ...C..."),
        ("RCC_APB1_TIM2", 0x00000001, "RCC_APB1ENR_TIM2EN"),
        ("RCC_APB1_CAN1", 0x02000000, "RCC_APB1ENR_CAN1EN, RCC_APB1RSTR_CAN1RST"),
        ("RCC_APB1_CAN2", 0x04000000, "RCC_APB1ENR_CAN2EN, RCC_APB1RSTR_CAN2RST"),
        ("RCC_APB2_SYSCFG", 0x00004000, "RCC_APB2ENR_SYSCFGEN"),
        ("RESET_FLAGS_REMOVE", 0x01000000, "RCC_CSR_RMVF"),
        ("RESET_BY_SUPPLY", 0x08000000 | 0x02000000, "RCC_CSR_PORRSTF | RCC_CSR_BORRSTF"),
        ("RESET_BY_WATCHDOG", 0x20000000, "RCC_CSR_WDGRSTF"),
        ("&FLASH_ACR", 0x40023C00, "FLASH_R_BASE, ACR"),
        ("FLASH_ACR_TWO_WAIT_STATES", 0x2, "FLASH_ACR_LATENCY_2WS"),
        ("FLASH_ACR_PREFETCH_CACHES", 0x100 | 0x200 | 0x400, "FLASH_ACR_PRFTEN | FLASH_ACR_ICEN | FLASH_ACR_DCEN"),
        ("GPIO_A", 0x40020000, "GPIOA_BASE"),
        ("GPIO_B", 0x40020400, "GPIOB_BASE"),
        ("GPIO_C", 0x40020800, "GPIOC_BASE"),
        ("&EXTI_SOURCE(0u)", 0x40013800 + 0x08, "SYSCFG_BASE, EXTICR[0]"),
        ("&EXTI_SOURCE(15u)", 0x40013800 + 0x14, "SYSCFG EXTICR[3]"),
        ("2u << (1u * EXTI_SOURCE_BITS)", 0x0020, "SYSCFG_EXTICR4_EXTI13_PC"),
        ("&EXTI_IMR", 0x40013C00, "EXTI_BASE, IMR"),
        ("&EXTI_RTSR", 0x40013C00 + 0x08, "EXTI RTSR"),
        ("&EXTI_FTSR", 0x40013C00 + 0x0C, "EXTI FTSR"),
        ("&EXTI_PR", 0x40013C00 + 0x14, "EXTI PR"),
        ("IWDG", 0x40003000, "IWDG_BASE"),
        ("IRQ_TIM2", 28, "TIM2_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x1u)", 1 << 6, "EXTI0_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x10u)", 1 << 10, "EXTI4_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x20u)", 1 << 23, "EXTI9_5_IRQn"),
        ("CHIP_LINE_IRQS_32_63(0x400u)", 1 << (40 - 32), "EXTI15_10_IRQn"),
        // stm32f4xx_hal_gpio_ex.h.
        ("(CAN1_PINS_PA11_PA12)", 0x09, "GPIO_AF9_CAN1"),
        ("(CAN2_PINS_PB5_PB6)", 0x09, "GPIO_AF9_CAN2"),
    ];

    // STM32CubeF1, stm32f105xc.h: ..._BASE, RCC_TypeDef, AFIO_TypeDef, IRQn_Type, "Bit definition for ... register".
    private static readonly (string Ours, long Theirs, string Name)[] s_f105 =
    [
        ("&RCC_CR", 0x40021000, "RCC_BASE, CR"),
        ("&RCC_CFGR", 0x40021000 + 0x04, "RCC CFGR"),
        ("&RCC_APB1RSTR", 0x40021000 + 0x10, "RCC APB1RSTR"),
        ("&RCC_APB2ENR", 0x40021000 + 0x18, "RCC APB2ENR"),
        ("&RCC_APB1ENR", 0x40021000 + 0x1C, "RCC APB1ENR"),
        ("&RESET_FLAGS", 0x40021000 + 0x24, "RCC CSR"),
        ("RCC_CR_HSEON", 0x00010000, "RCC_CR_HSEON_Msk"),
        ("RCC_CR_HSERDY", 0x00020000, "RCC_CR_HSERDY_Msk"),
        ("RCC_CR_CSSON", 0x00080000, "RCC_CR_CSSON_Msk"),
        ("RCC_CR_PLLON", 0x01000000, "RCC_CR_PLLON_Msk"),
        ("RCC_CR_PLLRDY", 0x02000000, "RCC_CR_PLLRDY_Msk"),
        ("RCC_CFGR_SW_MASK", 0x00000003, "RCC_CFGR_SW_Msk"),
        ("RCC_CFGR_SW_PLL", 0x00000002, "RCC_CFGR_SW_PLL"),
        ("RCC_CFGR_SWS_MASK", 0x0000000C, "RCC_CFGR_SWS_Msk"),
        ("RCC_CFGR_SWS_PLL", 0x00000008, "RCC_CFGR_SWS_PLL"),
        ("RCC_CFGR_PPRE1_DIV2", 0x00000400, "RCC_CFGR_PPRE1_DIV2"),
        ("RCC_CFGR_PLLSRC_HSE", 0x00010000, "RCC_CFGR_PLLSRC_Msk"),
        ("RCC_CFGR_PLLMUL_9", 0x001C0000, "RCC_CFGR_PLLMULL9_Msk"),
        ("RCC_APB2_AFIO", 0x00000001, "RCC_APB2ENR_AFIOEN_Msk"),
        ("RCC_APB2_PORT_A", 0x00000004, "RCC_APB2ENR_IOPAEN_Msk"),
        ("RCC_APB2_PORT_B", 0x00000008, "RCC_APB2ENR_IOPBEN_Msk"),
        ("RCC_APB2_PORT_C", 0x00000010, "RCC_APB2ENR_IOPCEN_Msk"),
        ("RCC_APB1_TIM2", 0x00000001, "RCC_APB1ENR_TIM2EN_Msk"),
        ("RCC_APB1_TIM3", 0x00000002, "RCC_APB1ENR_TIM3EN_Msk"),
        ("RCC_APB1_CAN", 0x02000000, "RCC_APB1ENR_CAN1EN_Msk, RCC_APB1RSTR_CAN1RST_Msk"),
        ("RCC_APB1_CAN2", 0x04000000, "RCC_APB1ENR_CAN2EN_Msk, RCC_APB1RSTR_CAN2RST_Msk"),
        ("RESET_FLAGS_REMOVE", 0x01000000, "RCC_CSR_RMVF_Msk"),
        ("RESET_BY_SUPPLY", 0x08000000, "RCC_CSR_PORRSTF_Msk"),
        ("RESET_BY_WATCHDOG", 0x20000000, "RCC_CSR_IWDGRSTF_Msk"),
        ("&FLASH_ACR", 0x40022000, "FLASH_R_BASE, ACR"),
        ("GPIO_A", 0x40010800, "GPIOA_BASE"),
        ("GPIO_B", 0x40010C00, "GPIOB_BASE"),
        ("GPIO_C", 0x40011000, "GPIOC_BASE"),
        ("&AFIO_MAPR", 0x40010000 + 0x04, "AFIO_BASE, MAPR"),
        ("&AFIO_EXTICR(13u)", 0x40010000 + 0x14, "AFIO EXTICR[3]"),
        ("AFIO_MAPR_CAN_PB8_PB9", 0x00004000, "AFIO_MAPR_CAN_REMAP_REMAP2_Msk"),
        ("AFIO_MAPR_CAN2_PB5_PB6", 0x00400000, "AFIO_MAPR_CAN2_REMAP_Msk"),
        ("AFIO_MAPR_SWD_ONLY", 0x02000000, "AFIO_MAPR_SWJ_CFG_JTAGDISABLE_Msk"),
        ("&EXTI_PR", 0x40010400 + 0x14, "EXTI_BASE, PR"),
        ("IRQ_EXTI0", 6, "EXTI0_IRQn"),
        ("IRQ_EXTI9_5", 23, "EXTI9_5_IRQn"),
        ("IRQ_TIM2", 28, "TIM2_IRQn"),
        ("IRQ_EXTI15_10", 40, "EXTI15_10_IRQn"),
    ];

    [Fact]
    public void What_newer_ones_share_lies_where_their_maker_says() =>
        VendorRegisterTests.Hold("common-stm32", "core_registers.h", s_core, "#define IWDG 0u\n");

    [Fact]
    public void The_stm32f4s_lie_where_their_maker_says() =>
        VendorRegisterTests.Hold("common-stm32f4", "chip_registers.h", s_f4, "#define CAN_PIN(letter, bit, function) function\n", "common-stm32");

    [Fact]
    public void The_stm32f105s_lie_where_their_maker_says() =>
        VendorRegisterTests.Hold("stm32f105-bxcan", "chip_registers.h", s_f105, "#define CHIP_CRYSTAL_MHZ 8\n", "stm32f103-bxcan");
}
