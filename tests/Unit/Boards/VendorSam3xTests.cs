using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>The SAM3X8E against values quoted from headers that its maker publishes.</summary>
public sealed class VendorSam3xTests
{
    // SAM3X/A device headers, component/component_can.h: Can and CanMb with their offsets, then the bits of each register.
    private static readonly (string Ours, long Theirs, string Name)[] s_can =
    [
        ("&CAN_MR(0)", 0x400B4000, "CAN0 (sam3x4c.h), CAN_MR"),
        ("&CAN_MR(1)", 0x400B8000, "CAN1 (sam3x4c.h), CAN_MR"),
        ("&CAN_IER(0)", 0x400B4000 + 0x4, "CAN_IER"),
        ("&CAN_IDR(0)", 0x400B4000 + 0x8, "CAN_IDR"),
        ("&CAN_SR(0)", 0x400B4000 + 0x10, "CAN_SR"),
        ("&CAN_BR(0)", 0x400B4000 + 0x14, "CAN_BR"),
        ("&CAN_TIM(0)", 0x400B4000 + 0x18, "CAN_TIM"),
        ("&CAN_MMR(0, 2)", 0x400B4000 + 0x200 + 2 * 0x20, "CAN_MB[2].CAN_MMR"),
        ("&CAN_MAM(0, 0)", 0x400B4000 + 0x200 + 0x4, "CAN_MB[0].CAN_MAM"),
        ("&CAN_MID(0, 0)", 0x400B4000 + 0x200 + 0x8, "CAN_MB[0].CAN_MID"),
        ("&CAN_MSR(0, 0)", 0x400B4000 + 0x200 + 0x10, "CAN_MB[0].CAN_MSR"),
        ("&CAN_MDL(0, 0)", 0x400B4000 + 0x200 + 0x14, "CAN_MB[0].CAN_MDL"),
        ("&CAN_MDH(0, 0)", 0x400B4000 + 0x200 + 0x18, "CAN_MB[0].CAN_MDH"),
        ("&CAN_MCR(0, 0)", 0x400B4000 + 0x200 + 0x1C, "CAN_MB[0].CAN_MCR"),
        ("CAN_MR_ENABLE", 1 << 0, "CAN_MR_CANEN"),
        ("CAN_MR_STAMP_END", 1 << 4, "CAN_MR_TEOF"),
        ("CAN_SR_PASSIVE", 1 << 18, "CAN_SR_ERRP"),
        ("CAN_SR_OFF", 1 << 19, "CAN_SR_BOFF"),
        ("CAN_SR_AWAKE", 1 << 21, "CAN_SR_WAKEUP"),
        ("CAN_MMR_DISABLED", 0, "CAN_MMR_MOT_MB_DISABLED"),
        ("CAN_MMR_RECEIVE", 1 << 24, "CAN_MMR_MOT_MB_RX"),
        ("CAN_MMR_OVERWRITE", 2 << 24, "CAN_MMR_MOT_MB_RX_OVERWRITE"),
        ("CAN_MMR_TRANSMIT", 3 << 24, "CAN_MMR_MOT_MB_TX"),
        ("CAN_MMR_PRIORITY(15u)", 0xF << 16, "CAN_MMR_PRIOR_Msk"),
        ("CAN_MID_EXTENDED", 1 << 29, "CAN_MID_MIDE"),
        ("CAN_MID_STANDARD_SHIFT", 18, "CAN_MID_MIDvA_Pos"),
        ("CAN_MSR_STAMP", 0xFFFF, "CAN_MSR_MTIMESTAMP_Msk"),
        ("CAN_MSR_LENGTH(0xF0000u)", 0xF, "CAN_MSR_MDLC_Msk"),
        ("CAN_MSR_REMOTE", 1 << 20, "CAN_MSR_MRTR"),
        ("CAN_MSR_READY", 1 << 23, "CAN_MSR_MRDY"),
        ("CAN_MSR_IGNORED", 1 << 24, "CAN_MSR_MMI"),
        ("CAN_MCR_LENGTH(15u)", 0xF << 16, "CAN_MCR_MDLC_Msk"),
        ("CAN_MCR_ABORT", 1 << 22, "CAN_MCR_MACR"),
        ("CAN_MCR_TRANSFER", 1 << 23, "CAN_MCR_MTCR"),
    ];

    // Bases: sam3x4c.h and sam3x4e.h of the same chip family, interrupt numbers: sam3x8e.h; SAM3X/A device headers, component/component_pmc.h, _efc.h,
    // _pio.h, _tc.h: structures with offsets, then bits. RSTC and WDT: component headers of the maker's SAM3 and SAM4 chips, which share the blocks.
    private static readonly (string Ours, long Theirs, string Name)[] s_around =
    [
        ("&PMC_PCER0", 0x400E0600 + 0x10, "PMC, PMC_PCER0"),
        ("&CKGR_MOR", 0x400E0600 + 0x20, "CKGR_MOR"),
        ("&CKGR_PLLAR", 0x400E0600 + 0x28, "CKGR_PLLAR"),
        ("&PMC_MCKR", 0x400E0600 + 0x30, "PMC_MCKR"),
        ("&PMC_SR", 0x400E0600 + 0x68, "PMC_SR"),
        ("&PMC_PCER1", 0x400E0600 + 0x100, "PMC_PCER1"),
        ("&PMC_PCDR1", 0x400E0600 + 0x104, "PMC_PCDR1"),
        ("MOR_XTAL_ON", 1 << 0, "CKGR_MOR_MOSCXTEN"),
        ("MOR_RC_ON", 1 << 3, "CKGR_MOR_MOSCRCEN"),
        ("MOR_XTAL_START(0xFFu)", 0xFF << 8, "CKGR_MOR_MOSCXTST_Msk"),
        ("MOR_KEY", 0x37 << 16, "CKGR_MOR_KEY_Pos; the value 0x37 from memory"),
        ("MOR_SELECT_XTAL", 1 << 24, "CKGR_MOR_MOSCSEL"),
        ("PLLAR_ONE", 1 << 29, "CKGR_PLLAR_ONE"),
        ("PLLAR(0x800u, 0xFFu)", 0x7FF << 16 | 0x3F << 8 | 0xFF, "CKGR_PLLAR_MULA_Msk, ..._PLLACOUNT_Msk, ..._DIVA_Msk"),
        ("MCKR_MAIN", 0x1 << 0, "PMC_MCKR_CSS_MAIN_CLK"),
        ("MCKR_PLLA", 0x2 << 0, "PMC_MCKR_CSS_PLLA_CLK"),
        ("MCKR_CLOCK_MASK", 0x3 << 0, "PMC_MCKR_CSS_Msk"),
        ("MCKR_DIVIDE_BY_2", 0x1 << 4, "PMC_MCKR_PRES_CLK_2"),
        ("PMC_XTAL_STABLE", 1 << 0, "PMC_SR_MOSCXTS"),
        ("PMC_PLLA_LOCKED", 1 << 1, "PMC_SR_LOCKA"),
        ("PMC_MASTER_READY", 1 << 3, "PMC_SR_MCKRDY"),
        ("PMC_XTAL_SELECTED", 1 << 16, "PMC_SR_MOSCSELS"),
        ("&EFC0_FMR", 0x400E0A00, "EFC0, EEFC_FMR"),
        ("&EFC1_FMR", 0x400E0C00, "EFC1, EEFC_FMR"),
        ("FMR_WAIT_STATES(15u)", 0xF << 8, "EEFC_FMR_FWS_Msk"),
        ("PIO_A", 0x400E0E00, "PIOA"),
        ("PIO_B", 0x400E1000, "PIOB"),
        ("PIO_C", 0x400E1200, "PIOC"),
        ("PIO_D", 0x400E1400, "PIOD"),
        ("&PIO_PER(0)", 0x00, "PIO_PER"),
        ("&PIO_PDR(0)", 0x04, "PIO_PDR"),
        ("&PIO_OER(0)", 0x10, "PIO_OER"),
        ("&PIO_ODR(0)", 0x14, "PIO_ODR"),
        ("&PIO_SODR(0)", 0x30, "PIO_SODR"),
        ("&PIO_CODR(0)", 0x34, "PIO_CODR"),
        ("&PIO_PDSR(0)", 0x3C, "PIO_PDSR"),
        ("&PIO_IER(0)", 0x40, "PIO_IER"),
        ("&PIO_ISR(0)", 0x4C, "PIO_ISR"),
        ("&PIO_PUDR(0)", 0x60, "PIO_PUDR"),
        ("&PIO_PUER(0)", 0x64, "PIO_PUER"),
        ("&PIO_ABSR(0)", 0x70, "PIO_ABSR"),
        ("&TC_CCR", 0x40080000, "TC0, TC_CHANNEL[0].TC_CCR"),
        ("&TC_CMR", 0x40080000 + 0x04, "TC_CMR"),
        ("&TC_CV", 0x40080000 + 0x10, "TC_CV, behind TC_SMMR and Reserved1"),
        ("&TC_RC", 0x40080000 + 0x1C, "TC_RC"),
        ("&TC_SR", 0x40080000 + 0x20, "TC_SR"),
        ("&TC_IER", 0x40080000 + 0x24, "TC_IER"),
        ("TC_START", 1 << 0 | 1 << 2, "TC_CCR_CLKEN | TC_CCR_SWTRG"),
        ("TC_WAVE_UP", 1 << 15 | 0 << 13 | 0, "TC_CMR_WAVE | TC_CMR_WAVSEL_UP | TC_CMR_TCCLKS_TIMER_CLOCK1"),
        ("TC_COMPARE_C", 1 << 4, "TC_IER_CPCS, TC_SR_CPCS"),
        ("&RSTC_SR", 0x400E1A00 + 0x04, "RSTC, RSTC_SR"),
        ("RSTC_TYPE_MASK", 0x7 << 8, "RSTC_SR_RSTTYP_Msk"),
        ("RSTC_TYPE_WATCHDOG", 0x2 << 8, "RSTC_SR_RSTTYP_WDT_RST, of a SAM4"),
        ("&WDT_CR", 0x400E1A50, "WDT, WDT_CR"),
        ("&WDT_MR", 0x400E1A50 + 0x04, "WDT_MR"),
        ("WDT_FEED", 0xA5L << 24 | 1, "WDT_CR_KEY_Pos, WDT_CR_WDRSTT; the value 0xA5 from memory"),
        ("WDT_RESETS", 1 << 13, "WDT_MR_WDRSTEN"),
        ("WDT_VALUE(0xFFFu)", 0xFFF | 0xFFF << 16, "WDT_MR_WDV_Msk | WDT_MR_WDD_Msk"),
        ("ID_PIO_A", 11, "PIOA_IRQn"),
        ("ID_TC0", 27, "TC0_IRQn"),
        ("ID_CAN0", 43, "CAN0_IRQn"),
        ("ID_CAN1", 44, "CAN1_IRQn"),
        // CMSIS, core_cm3.h (quoted from core_cm4.h, which has the same): NVIC_BASE, SCB_BASE.
        ("&NVIC_ISER(32u)", 0xE000E000 + 0x0100 + 4, "NVIC ISER[1]"),
        ("&NVIC_ICPR(0u)", 0xE000E000 + 0x0100 + 0x180, "NVIC ICPR[0]"),
        ("&SCB_VTOR", 0xE000E000 + 0x0D00 + 0x08, "SCB VTOR"),
    ];

    [Fact]
    public void The_sam3xs_controllers_lie_where_its_maker_says() => VendorRegisterTests.Hold("sam3x8e-can", "sam3x_registers.h", s_can);

    [Fact]
    public void The_sam3x_lies_where_its_maker_says() => VendorRegisterTests.Hold("sam3x8e-can", "sam3x_registers.h", s_around);
}
