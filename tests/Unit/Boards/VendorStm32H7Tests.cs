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
}
