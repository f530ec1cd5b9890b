using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>CAN controllers of ports, and what is around them, against values quoted from headers that the chips' makers publish.</summary>
public sealed class VendorControllerTests
{
    internal const string Register = "#include <stdint.h>\n#define REGISTER(address) (*(volatile uint32_t *)(uintptr_t)(address))\n";

    // STM32CubeF1, Drivers/CMSIS/Device/ST/STM32F1xx/Include/stm32f103xb.h: CAN_TypeDef, CAN1_BASE, "Bit definition for CAN_... register".
    // P is the prefix of a port's names, A the argument of the first controller.
    private static readonly (string Ours, long Theirs, string Name)[] s_bxCan =
    [
        ("&P_MCR", 0x40006400, "CAN1_BASE, MCR"),
        ("&P_MSR", 0x40006400 + 0x4, "MSR"),
        ("&P_TSR", 0x40006400 + 0x8, "TSR"),
        ("&P_RF0R", 0x40006400 + 0xC, "RF0R"),
        ("&P_IER", 0x40006400 + 0x14, "IER, behind RF1R"),
        ("&P_ESR", 0x40006400 + 0x18, "ESR"),
        ("&P_BTR", 0x40006400 + 0x1C, "BTR"),
        ("&P_TIR(2)", 0x40006400 + 0x20 + 88 * 4 + 2 * 16, "sTxMailBox[2].TIR, behind RESERVED0[88]"),
        ("&P_TDTR(0)", 0x40006400 + 0x180 + 4, "sTxMailBox[0].TDTR"),
        ("&P_TDLR(0)", 0x40006400 + 0x180 + 8, "sTxMailBox[0].TDLR"),
        ("&P_TDHR(0)", 0x40006400 + 0x180 + 12, "sTxMailBox[0].TDHR"),
        ("&P_RI0R", 0x40006400 + 0x180 + 3 * 16, "sFIFOMailBox[0].RIR"),
        ("&P_RDT0R", 0x40006400 + 0x1B0 + 4, "sFIFOMailBox[0].RDTR"),
        ("&P_RDH0R", 0x40006400 + 0x1B0 + 12, "sFIFOMailBox[0].RDHR"),
        ("&P_FMR", 0x40006400 + 0x1B0 + 2 * 16 + 12 * 4, "FMR, behind RESERVED1[12]"),
        ("&P_FM1R", 0x40006400 + 0x204, "FM1R"),
        ("&P_FS1R", 0x40006400 + 0x20C, "FS1R, behind RESERVED2"),
        ("&P_FFA1R", 0x40006400 + 0x214, "FFA1R, behind RESERVED3"),
        ("&P_FA1R", 0x40006400 + 0x21C, "FA1R, behind RESERVED4"),
        ("&P_FR1(3)", 0x40006400 + 0x220 + 8 * 4 + 3 * 8, "sFilterRegister[3].FR1, behind RESERVED5[8]"),
        ("P_MSR_INAK", 0x1, "CAN_MSR_INAK_Msk"),
        ("P_MSR_SLAK", 0x2, "CAN_MSR_SLAK_Msk"),
        ("P_MSR_ERRI", 0x4, "CAN_MSR_ERRI_Msk"),
        ("P_TSR_RQCP_ALL", 0x1 | 0x100 | 0x10000, "CAN_TSR_RQCP0_Msk | ...1_Msk | ...2_Msk"),
        ("P_TSR_ABRQ_ALL", 0x80 | 0x8000 | 0x800000, "CAN_TSR_ABRQ0_Msk | ...1_Msk | ...2_Msk"),
        ("P_TSR_TME(0u)", 0x04000000, "CAN_TSR_TME0_Msk"),
        ("P_TSR_TME(2u)", 0x10000000, "CAN_TSR_TME2_Msk"),
        ("P_RF0R_FMP", 0x3, "CAN_RF0R_FMP0_Msk"),
        ("P_RF0R_FOVR", 0x10, "CAN_RF0R_FOVR0_Msk"),
        ("P_RF0R_RFOM", 0x20, "CAN_RF0R_RFOM0_Msk"),
        ("P_IER_TMEIE", 0x1, "CAN_IER_TMEIE_Msk"),
        ("P_IER_FMPIE0", 0x2, "CAN_IER_FMPIE0_Msk"),
        ("P_IER_BOFIE", 0x400, "CAN_IER_BOFIE_Msk"),
        ("P_IER_ERRIE", 0x8000, "CAN_IER_ERRIE_Msk"),
        ("P_ESR_EPVF", 0x2, "CAN_ESR_EPVF_Msk"),
        ("P_ESR_BOFF", 0x4, "CAN_ESR_BOFF_Msk"),
        ("P_TIR_TXRQ", 0x1, "CAN_TI0R_TXRQ_Msk"),
        ("P_TIR_IDE", 0x4, "CAN_TI0R_IDE_Msk"),
        ("P_TIR_EXTENDED_SHIFT", 3, "CAN_TI0R_EXID_Pos"),
        ("P_TIR_STANDARD_SHIFT", 21, "CAN_TI0R_STID_Pos"),
    ];

    // stm32f105xc.h and stm32f405xx.h: CAN2_BASE, IRQn_Type.
    private static readonly (string Ours, long Theirs, string Name)[] s_bxCanPair =
    [
        ("&BXCAN_MCR(1)", 0x40006800, "CAN2_BASE, MCR"),
        ("BXCAN_IRQ_TX(0u)", 19, "CAN1_TX_IRQn"),
        ("BXCAN_IRQ_RX0(0u)", 20, "CAN1_RX0_IRQn"),
        ("BXCAN_IRQ_SCE(0u)", 22, "CAN1_SCE_IRQn"),
        ("BXCAN_IRQ_TX(1u)", 63, "CAN2_TX_IRQn"),
        ("BXCAN_IRQ_RX0(1u)", 64, "CAN2_RX0_IRQn"),
        ("BXCAN_IRQ_SCE(1u)", 66, "CAN2_SCE_IRQn"),
    ];

    // The same file: RCC_TypeDef and others, ..._BASE, "Bit definition for RCC_... register".
    private static readonly (string Ours, long Theirs, string Name)[] s_stm32F103 =
    [
        ("&RCC_CR", 0x40021000, "RCC_BASE, CR"),
        ("&RCC_CFGR", 0x40021000 + 0x4, "RCC CFGR"),
        ("&RCC_APB1RSTR", 0x40021000 + 0x10, "RCC APB1RSTR"),
        ("&RCC_APB2ENR", 0x40021000 + 0x18, "RCC APB2ENR"),
        ("&RCC_APB1ENR", 0x40021000 + 0x1C, "RCC APB1ENR"),
        ("&RCC_CSR", 0x40021000 + 0x24, "RCC CSR"),
        ("RCC_APB2_AFIO", 0x1, "RCC_APB2ENR_AFIOEN_Msk"),
        ("RCC_APB2_PORT_A", 0x4, "RCC_APB2ENR_IOPAEN_Msk"),
        ("RCC_APB2_PORT_C", 0x10, "RCC_APB2ENR_IOPCEN_Msk"),
        ("RCC_APB1_TIM2", 0x1, "RCC_APB1ENR_TIM2EN_Msk"),
        ("RCC_APB1_TIM3", 0x2, "RCC_APB1ENR_TIM3EN_Msk"),
        ("RCC_APB1_CAN", 0x02000000, "RCC_APB1ENR_CAN1EN_Msk"),
        ("RCC_CSR_RMVF", 0x01000000, "RCC_CSR_RMVF_Msk"),
        ("RCC_CSR_PORRSTF", 0x08000000, "RCC_CSR_PORRSTF_Msk"),
        ("RCC_CSR_IWDGRSTF", 0x20000000, "RCC_CSR_IWDGRSTF_Msk"),
        ("&FLASH_ACR", 0x40022000, "FLASH_R_BASE, ACR"),
        ("GPIO_A", 0x40010800, "GPIOA_BASE"),
        ("GPIO_C", 0x40011000, "GPIOC_BASE"),
        ("&GPIO_IDR(GPIO_A)", 0x40010800 + 0x8, "GPIOA IDR"),
        ("&GPIO_BSRR(GPIO_A)", 0x40010800 + 0x10, "GPIOA BSRR"),
        ("&AFIO_MAPR", 0x40010000 + 0x4, "AFIO MAPR"),
        ("&AFIO_EXTICR(13u)", 0x40010000 + 0x14, "AFIO EXTICR[3]"),
        ("&EXTI_IMR", 0x40010400, "EXTI_BASE, IMR"),
        ("&EXTI_RTSR", 0x40010400 + 0x8, "EXTI RTSR"),
        ("&EXTI_FTSR", 0x40010400 + 0xC, "EXTI FTSR"),
        ("&EXTI_PR", 0x40010400 + 0x14, "EXTI PR"),
        ("TIM2", 0x40000000, "TIM2_BASE"),
        ("TIM3", 0x40000400, "TIM3_BASE"),
        ("&TIM_SMCR(TIM2)", 0x40000000 + 0x8, "TIM SMCR"),
        ("&TIM_DIER(TIM2)", 0x40000000 + 0xC, "TIM DIER"),
        ("&TIM_CNT(TIM2)", 0x40000000 + 0x24, "TIM CNT"),
        ("&TIM_PSC(TIM2)", 0x40000000 + 0x28, "TIM PSC"),
        ("&TIM_ARR(TIM2)", 0x40000000 + 0x2C, "TIM ARR"),
        ("&TIM_CCR1(TIM2)", 0x40000000 + 0x34, "TIM CCR1"),
        ("&IWDG_KR", 0x40003000, "IWDG_BASE, KR"),
        ("&IWDG_PR", 0x40003000 + 0x4, "IWDG PR"),
        ("&IWDG_RLR", 0x40003000 + 0x8, "IWDG RLR"),
    ];

    // STM32CubeG4's device header stm32g431xx.h: FDCAN_GlobalTypeDef (with offsets), "Bit definition for FDCAN_... register".
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
        ("&FDCAN_GFC(0)", 0x080, "RXGFC"),
        ("&FDCAN_RXF0S(0)", 0x090, "RXF0S"),
        ("&FDCAN_RXF0A(0)", 0x094, "RXF0A"),
        ("&FDCAN_TXBC(0)", 0x0C0, "TXBC"),
        ("&FDCAN_TXFQS(0)", 0x0C4, "TXFQS"),
        ("&FDCAN_TXBRP(0)", 0x0C8, "TXBRP"),
        ("&FDCAN_TXBAR(0)", 0x0CC, "TXBAR"),
        ("&FDCAN_TXBCR(0)", 0x0D0, "TXBCR"),
        ("&FDCAN_TXBTIE(0)", 0x0DC, "TXBTIE"),
        ("FDCAN_PSR_EP", 0x20, "FDCAN_PSR_EP_Msk"),
        ("FDCAN_PSR_BO", 0x80, "FDCAN_PSR_BO_Msk"),
        ("FDCAN_IR_RF0N", 0x1, "FDCAN_IR_RF0N_Msk"),
        ("FDCAN_IR_RF0L", 0x4, "FDCAN_IR_RF0L_Msk"),
        ("FDCAN_IR_TC", 0x80, "FDCAN_IR_TC_Msk"),
        ("FDCAN_IR_BO", 0x80000, "FDCAN_IR_BO_Msk"),
        ("FDCAN_ILE_LINE0", 0x1, "FDCAN_ILE_EINT0_Msk"),
        ("FDCAN_GFC_REJECT", 0x1 | 0x2 | 0x08 | 0x20, "RRFE, RRFS, ANFE and ANFS of value 2: reject"),
        ("FDCAN_GFC_LSS_SHIFT", 16, "FDCAN_RXGFC_LSS_Pos"),
        ("FDCAN_GFC_LSE_SHIFT", 24, "FDCAN_RXGFC_LSE_Pos"),
        ("FDCAN_TXBC_QUEUE", 0x01000000, "FDCAN_TXBC_TFQM_Msk"),
        ("FDCAN_RXF0S_GET_SHIFT", 8, "FDCAN_RXF0S_F0GI_Pos"),
        ("FDCAN_TXFQS_FULL", 0x00200000, "FDCAN_TXFQS_TFQF_Msk"),
        ("FDCAN_TXFQS_PUT_SHIFT", 16, "FDCAN_TXFQS_TFQPI_Pos"),
    ];

    [Fact]
    public void The_stm32f103s_lie_where_its_maker_says() =>
        VendorRegisterTests.Hold("stm32f103-bxcan", "stm32f103_registers.h", [.. BxCan("CAN", ""), .. s_stm32F103]);

    [Fact]
    public void The_bxcans_of_pairs_lie_where_their_maker_says() =>
        VendorRegisterTests.Hold("common-bxcan", "bxcan_registers.h", [.. BxCan("BXCAN", "0"), .. s_bxCanPair], Register);

    // At base 0: the offsets of the structure.
    [Fact]
    public void The_fdcans_lie_where_their_maker_says() =>
        VendorRegisterTests.Hold("common-fdcan", "fdcan_registers.h", s_fdCan, Register + "#define FDCAN_BASE(bus) 0u\n#define FDCAN_CONFIGURABLE 0\n");

    // The filters of a pair belong to the first controller, so their names have no argument for it.
    private static IEnumerable<(string Ours, long Theirs, string Name)> BxCan(string prefix, string bus) => s_bxCan.Select(f =>
    {
        var shared = !f.Ours.StartsWith('&') || f.Ours.StartsWith("&P_F", StringComparison.Ordinal) || bus.Length is 0;
        var ours = shared ? f.Ours : f.Ours.EndsWith(')') ? f.Ours.Replace("(", $"({bus}, ", StringComparison.Ordinal) : $"{f.Ours}({bus})";
        return (ours[0] is '&' ? $"&{prefix}{ours[2..]}" : prefix + ours[1..], f.Theirs, f.Name);
    });
}
