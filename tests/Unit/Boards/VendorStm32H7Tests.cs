using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>The STM32H743, whose FDCAN has the message RAM laid out by the program, against values quoted from its maker's header stm32h743xx.h.</summary>
public sealed class VendorStm32H7Tests
{
    // FDCAN_GlobalTypeDef (with offsets), "Bit definition for FDCAN_... register".
    private static readonly (string Ours, long Theirs, string Name)[] s_fdCan =
    [
        ("&FDCAN_DBTP(0)", 0x00C, "DBTP"),
        ("&FDCAN_CCCR(0)", 0x018, "CCCR"),
        ("&FDCAN_NBTP(0)", 0x01C, "NBTP"),
        ("&FDCAN_PSR(0)", 0x044, "PSR"),
        ("&FDCAN_TDCR(0)", 0x048, "TDCR"),
        ("&FDCAN_IR(0)", 0x050, "IR"),
        ("&FDCAN_IE(0)", 0x054, "IE"),
        ("&FDCAN_ILS(0)", 0x058, "ILS"),
        ("&FDCAN_ILE(0)", 0x05C, "ILE"),
        ("&FDCAN_GFC(0)", 0x080, "GFC"),
        ("&FDCAN_SIDFC(0)", 0x084, "SIDFC"),
        ("&FDCAN_XIDFC(0)", 0x088, "XIDFC"),
        ("&FDCAN_RXF0C(0)", 0x0A0, "RXF0C"),
        ("&FDCAN_RXF0S(0)", 0x0A4, "RXF0S"),
        ("&FDCAN_RXF0A(0)", 0x0A8, "RXF0A"),
        ("&FDCAN_RXESC(0)", 0x0BC, "RXESC"),
        ("&FDCAN_TXBC(0)", 0x0C0, "TXBC"),
        ("&FDCAN_TXFQS(0)", 0x0C4, "TXFQS"),
        ("&FDCAN_TXESC(0)", 0x0C8, "TXESC"),
        ("&FDCAN_TXBRP(0)", 0x0CC, "TXBRP"),
        ("&FDCAN_TXBAR(0)", 0x0D0, "TXBAR"),
        ("&FDCAN_TXBCR(0)", 0x0D4, "TXBCR"),
        ("&FDCAN_TXBTIE(0)", 0x0E0, "TXBTIE"),
        ("FDCAN_CCCR_INIT", 0x1, "FDCAN_CCCR_INIT_Msk"),
        ("FDCAN_CCCR_CCE", 0x2, "FDCAN_CCCR_CCE_Msk"),
        ("FDCAN_CCCR_FDOE", 0x100, "FDCAN_CCCR_FDOE_Msk"),
        ("FDCAN_CCCR_BRSE", 0x200, "FDCAN_CCCR_BRSE_Msk"),
        ("FDCAN_PSR_EP", 0x20, "FDCAN_PSR_EP_Msk"),
        ("FDCAN_PSR_BO", 0x80, "FDCAN_PSR_BO_Msk"),
        ("FDCAN_IR_RF0N", 0x1, "FDCAN_IR_RF0N_Msk"),
        ("FDCAN_IR_RF0L", 0x8, "FDCAN_IR_RF0L_Msk"),
        ("FDCAN_IR_TC", 0x200, "FDCAN_IR_TC_Msk"),
        ("FDCAN_IR_BO", 0x02000000, "FDCAN_IR_BO_Msk"),
        ("FDCAN_ILE_LINE0", 0x1, "FDCAN_ILE_EINT0_Msk"),
        ("FDCAN_GFC_REJECT", 0x1 | 0x2 | 0x08 | 0x20, "RRFE, RRFS, ANFE and ANFS of value 2: reject"),
        ("FDCAN_LIST_SIZE_SHIFT", 16, "FDCAN_SIDFC_LSS_Pos, FDCAN_XIDFC_LSE_Pos, FDCAN_RXF0C_F0S_Pos"),
        ("FDCAN_ESC_64_BYTES", 0x7, "FDCAN_RXESC_F0DS_Msk, FDCAN_TXESC_TBDS_Msk"),
        ("FDCAN_TXBC_SIZE_SHIFT", 24, "FDCAN_TXBC_TFQS_Pos"),
        ("FDCAN_TXBC_QUEUE", 0x40000000, "FDCAN_TXBC_TFQM_Msk"),
        ("FDCAN_RXF0S_FILL", 0x7F, "FDCAN_RXF0S_F0FL_Msk"),
        ("FDCAN_RXF0S_GET_SHIFT", 8, "FDCAN_RXF0S_F0GI_Pos"),
        ("FDCAN_RXF0S_GET_MASK << FDCAN_RXF0S_GET_SHIFT", 0x3F00, "FDCAN_RXF0S_F0GI_Msk"),
        ("FDCAN_TXFQS_FULL", 0x00200000, "FDCAN_TXFQS_TFQF_Msk"),
        ("FDCAN_TXFQS_PUT_MASK << FDCAN_TXFQS_PUT_SHIFT", 0x001F0000, "FDCAN_TXFQS_TFQPI_Msk"),
    ];

    // RCC_TypeDef and others (with offsets), ..._BASE, IRQn_Type.
    private static readonly (string Ours, long Theirs, string Name)[] s_chip =
    [
        ("&PWR_CSR1", 0x58024800 + 0x04, "PWR_BASE, CSR1"),
        ("&PWR_CR3", 0x58024800 + 0x0C, "PWR CR3"),
        ("&SCB_VTOR", 0xE000E000 + 0x0D00 + 0x08, "CMSIS: SCS_BASE, SCB_BASE, VTOR"),
        ("&RCC_CR", 0x58024400, "RCC_BASE, CR"),
        ("&RCC_CFGR", 0x58024400 + 0x10, "RCC CFGR"),
        ("&RCC_D2CFGR", 0x58024400 + 0x1C, "RCC D2CFGR"),
        ("&RCC_PLLCKSELR", 0x58024400 + 0x28, "RCC PLLCKSELR"),
        ("&RCC_PLLCFGR", 0x58024400 + 0x2C, "RCC PLLCFGR"),
        ("&RCC_PLL1DIVR", 0x58024400 + 0x30, "RCC PLL1DIVR"),
        ("&RCC_D2CCIP1R", 0x58024400 + 0x50, "RCC D2CCIP1R"),
        ("&RCC_APB1HRSTR", 0x58024400 + 0x94, "RCC APB1HRSTR"),
        ("&RCC_RSR", 0x58024400 + 0xD0, "RCC RSR"),
        ("&RCC_AHB4ENR", 0x58024400 + 0xE0, "RCC AHB4ENR"),
        ("&RCC_APB1LENR", 0x58024400 + 0xE8, "RCC APB1LENR"),
        ("&RCC_APB1HENR", 0x58024400 + 0xEC, "RCC APB1HENR"),
        ("&RCC_APB4ENR", 0x58024400 + 0xF4, "RCC APB4ENR"),
        ("&FLASH_ACR", 0x52002000, "FLASH_R_BASE, ACR"),
        ("GPIO_A", 0x58020000, "GPIOA_BASE"),
        ("GPIO_B", 0x58020400, "GPIOB_BASE"),
        ("GPIO_C", 0x58020800, "GPIOC_BASE"),
        ("&EXTI_SOURCE(0u)", 0x58000400 + 0x08, "SYSCFG_BASE, EXTICR[0]"),
        ("&EXTI_SOURCE(15u)", 0x58000400 + 0x14, "SYSCFG EXTICR[3]"),
        ("&EXTI_RTSR", 0x58000000, "EXTI_BASE, RTSR1"),
        ("&EXTI_FTSR", 0x58000000 + 0x04, "EXTI FTSR1"),
        ("&EXTI_IMR", 0x58000080, "EXTI_D1_BASE, IMR1"),
        ("&EXTI_PR", 0x58000080 + 0x08, "EXTI_D1 PR1"),
        ("IWDG", 0x58004800, "IWDG1_BASE"),
        ("IRQ_TIM2", 28, "TIM2_IRQn"),
        ("CHIP_LINE_IRQS_0_31(0x20u)", 1 << 23, "EXTI9_5_IRQn"),
        ("CHIP_LINE_IRQS_32_63(0x400u)", 1 << (40 - 32), "EXTI15_10_IRQn"),
        ("FDCAN_BASE(0u)", 0x4000A000, "FDCAN1_BASE"),
        ("FDCAN_BASE(1u)", 0x4000A400, "FDCAN2_BASE"),
        ("FDCAN_IRQ(0u)", 19, "FDCAN1_IT0_IRQn"),
        ("FDCAN_IRQ(1u)", 20, "FDCAN2_IT0_IRQn"),
        ("FDCAN_RAM(0u)", 0x4000AC00, "SRAMCAN_BASE"),
        // stm32h7xx_hal_gpio_ex.h.
        ("(CAN1_PINS_PA11_PA12)", 0x09, "GPIO_AF9_FDCAN1"),
        ("(CAN2_PINS_PB5_PB6)", 0x09, "GPIO_AF9_FDCAN2"),
    ];

    [Fact]
    public void The_stm32h743s_controllers_lie_where_its_maker_says() =>
        VendorRegisterTests.Hold("common-fdcan", "fdcan_registers.h", s_fdCan, VendorControllerTests.Register + "#define FDCAN_BASE(bus) 0u\n#define FDCAN_CONFIGURABLE 1\n");

    [Fact]
    public void The_stm32h743_lies_where_its_maker_says() =>
        VendorRegisterTests.Hold("stm32h743-fdcan", "chip_registers.h", s_chip, "#define CAN_PIN(letter, bit, function) function\n", "common-stm32");
}
