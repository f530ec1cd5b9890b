using System.Globalization;
using Xunit;

namespace Locum.Tests.Unit.Boards;

/// <summary>Registers of ports against values quoted from headers that the chips' makers publish.</summary>
public sealed class VendorRegisterTests
{
    // pico-sdk, src/rp2040/hardware_regs/include/hardware/regs/: addressmap.h for the bases, then the file of each block.
    private static readonly (string Ours, long Theirs, string Name)[] s_rp2040 =
    [
        ("&CLK_REF_CTRL", 0x40008000 + 0x30, "CLOCKS_BASE + CLOCKS_CLK_REF_CTRL_OFFSET"),
        ("&CLK_REF_SELECTED", 0x40008000 + 0x38, "CLOCKS_CLK_REF_SELECTED_OFFSET"),
        ("&CLK_SYS_CTRL", 0x40008000 + 0x3c, "CLOCKS_CLK_SYS_CTRL_OFFSET"),
        ("&CLK_SYS_SELECTED", 0x40008000 + 0x44, "CLOCKS_CLK_SYS_SELECTED_OFFSET"),
        ("&CLK_PERI_CTRL", 0x40008000 + 0x48, "CLOCKS_CLK_PERI_CTRL_OFFSET"),
        ("CLK_REF_XOSC", 0x2, "CLOCKS_CLK_REF_CTRL_SRC_VALUE_XOSC_CLKSRC"),
        ("CLK_PERI_ENABLE", 0x800, "CLOCKS_CLK_PERI_CTRL_ENABLE_BITS"),
        ("RESETS_RESET", 0x4000c000, "RESETS_BASE + RESETS_RESET_OFFSET"),
        ("RESET_IO_BANK0", 0x00000020, "RESETS_RESET_IO_BANK0_BITS"),
        ("RESET_PADS_BANK0", 0x00000100, "RESETS_RESET_PADS_BANK0_BITS"),
        ("RESET_PLL_SYS", 0x00001000, "RESETS_RESET_PLL_SYS_BITS"),
        ("RESET_SPI0", 0x00010000, "RESETS_RESET_SPI0_BITS"),
        ("RESET_TIMER", 0x00200000, "RESETS_RESET_TIMER_BITS"),
        ("&PSM_WDSEL", 0x40010000 + 0x8, "PSM_BASE + PSM_WDSEL_OFFSET"),
        ("&IO_INTR(0u)", 0x40014000 + 0xf0, "IO_BANK0_BASE + IO_BANK0_INTR0_OFFSET"),
        ("IO_INTE_ADDRESS(0u)", 0x40014000 + 0x100, "IO_BANK0_PROC0_INTE0_OFFSET"),
        ("IO_INTE_ADDRESS(9u)", 0x40014000 + 0x104, "IO_BANK0_PROC0_INTE1_OFFSET"),
        ("IO_EDGES(7u)", 0xc0000000, "IO_BANK0_PROC0_INTE0_GPIO7_EDGE_HIGH_BITS | ..._EDGE_LOW_BITS"),
        ("IO_LEVEL_LOW(7u)", 0x10000000, "IO_BANK0_PROC0_INTE0_GPIO7_LEVEL_LOW_BITS"),
        ("&PAD(0u)", 0x4001c000 + 0x4, "PADS_BANK0_BASE + PADS_BANK0_GPIO0_OFFSET"),
        ("PAD_INPUT", 0x40, "PADS_BANK0_GPIO0_IE_BITS"),
        ("&SIO_GPIO_OUT_SET", 0xd0000000 + 0x14, "SIO_BASE + SIO_GPIO_OUT_SET_OFFSET"),
        ("&SIO_GPIO_OUT_CLR", 0xd0000000 + 0x18, "SIO_GPIO_OUT_CLR_OFFSET"),
        ("&SIO_GPIO_OE_SET", 0xd0000000 + 0x24, "SIO_GPIO_OE_SET_OFFSET"),
        ("&XOSC_STATUS", 0x40024000 + 0x4, "XOSC_BASE + XOSC_STATUS_OFFSET"),
        ("&XOSC_STARTUP", 0x40024000 + 0xc, "XOSC_STARTUP_OFFSET"),
        ("XOSC_ENABLE", 0xfab << 12 | 0xaa0, "XOSC_CTRL_ENABLE_VALUE_ENABLE, XOSC_CTRL_FREQ_RANGE_VALUE_1_15MHZ"),
        ("XOSC_STABLE", 0x80000000, "XOSC_STATUS_STABLE_BITS"),
        ("&PLL_CS", 0x40028000, "PLL_SYS_BASE + PLL_CS_OFFSET"),
        ("PLL_PWR_ADDRESS", 0x40028000 + 0x4, "PLL_PWR_OFFSET"),
        ("&PLL_FBDIV", 0x40028000 + 0x8, "PLL_FBDIV_INT_OFFSET"),
        ("&PLL_PRIM", 0x40028000 + 0xc, "PLL_PRIM_OFFSET"),
        ("PLL_PWR_VCO_AND_ALL", 0x20 | 0x1, "PLL_PWR_VCOPD_BITS | PLL_PWR_PD_BITS"),
        ("PLL_PWR_POSTDIV", 0x8, "PLL_PWR_POSTDIVPD_BITS"),
        ("PLL_PRIM_DIVIDE(7u, 7u)", 0x00070000 | 0x00007000, "PLL_PRIM_POSTDIV1_BITS | PLL_PRIM_POSTDIV2_BITS"),
        ("&SPI_DR", 0x4003c000 + 0x8, "SPI0_BASE + SPI_SSPDR_OFFSET"),
        ("&SPI_SR", 0x4003c000 + 0xc, "SPI_SSPSR_OFFSET"),
        ("&SPI_CPSR", 0x4003c000 + 0x10, "SPI_SSPCPSR_OFFSET"),
        ("SPI_CR1_ENABLE", 0x2, "SPI_SSPCR1_SSE_BITS"),
        ("SPI_SR_TAKEN", 0x4, "SPI_SSPSR_RNE_BITS"),
        ("SPI_CR0_RATE(256u)", 0xff00, "SPI_SSPCR0_SCR_BITS"),
        ("&TIMER_ALARM0", 0x40054000 + 0x10, "TIMER_BASE + TIMER_ALARM0_OFFSET"),
        ("&TIMER_ARMED", 0x40054000 + 0x20, "TIMER_ARMED_OFFSET"),
        ("&TIMER_RAWL", 0x40054000 + 0x28, "TIMER_TIMERAWL_OFFSET"),
        ("&TIMER_INTR", 0x40054000 + 0x34, "TIMER_INTR_OFFSET"),
        ("&TIMER_INTE", 0x40054000 + 0x38, "TIMER_INTE_OFFSET"),
        ("&WATCHDOG_CTRL", 0x40058000, "WATCHDOG_BASE + WATCHDOG_CTRL_OFFSET"),
        ("&WATCHDOG_LOAD", 0x40058000 + 0x4, "WATCHDOG_LOAD_OFFSET"),
        ("&WATCHDOG_REASON", 0x40058000 + 0x8, "WATCHDOG_REASON_OFFSET"),
        ("&WATCHDOG_TICK", 0x40058000 + 0x2c, "WATCHDOG_TICK_OFFSET"),
        ("WATCHDOG_ENABLE", 0x40000000, "WATCHDOG_CTRL_ENABLE_BITS"),
        ("WATCHDOG_PAUSE_IN_DEBUGGER", 0x07000000, "WATCHDOG_CTRL_RESET"),
        ("WATCHDOG_REASON_ANY", 0x3, "WATCHDOG_REASON_BITS"),
        ("WATCHDOG_TICK_ENABLE", 0x200, "WATCHDOG_TICK_ENABLE_BITS"),
        ("&SSI_ENABLE", 0x18000000 + 0x8, "XIP_SSI_BASE + SSI_SSIENR_OFFSET"),
        ("&SSI_BAUDR", 0x18000000 + 0x14, "SSI_BAUDR_OFFSET"),
        ("&SSI_SPI_CTRLR0", 0x18000000 + 0xf4, "SSI_SPI_CTRLR0_OFFSET"),
        ("SSI_CTRLR0_32_BITS", 0x001f0000, "SSI_CTRLR0_DFS_32_BITS"),
        ("SSI_CTRLR0_EEPROM_READ", 0x3 << 8, "SSI_CTRLR0_TMOD_VALUE_EEPROM_READ, SSI_CTRLR0_TMOD_LSB"),
        ("SSI_XIP_COMMAND(3u)", 0x03000000, "SSI_SPI_CTRLR0_XIP_CMD_RESET, SSI_SPI_CTRLR0_XIP_CMD_LSB"),
    ];

    // Linux, drivers/net/can/spi/mcp251xfd/mcp251xfd.h (names without MCP251XFD_); the makers' data sheet DS20006027 has the same.
    private static readonly (string Ours, long Theirs, string Name)[] s_mcp2518Fd =
    [
        ("MCP_INSTRUCTION_WRITE << 12", 0x2000, "SPI_INSTRUCTION_WRITE"),
        ("MCP_INSTRUCTION_READ << 12", 0x3000, "SPI_INSTRUCTION_READ"),
        ("MCP_CON", 0x00, "REG_CON"),
        ("MCP_NBTCFG", 0x04, "REG_NBTCFG"),
        ("MCP_INT", 0x1c, "REG_INT"),
        ("MCP_TREC", 0x34, "REG_TREC"),
        ("MCP_TEFCON", 0x40, "REG_TEFCON"),
        ("MCP_TEFSTA", 0x44, "REG_TEFSTA"),
        ("MCP_TXQCON", 0x50, "REG_TXQCON"),
        ("MCP_TXQSTA", 0x54, "REG_TXQSTA"),
        ("MCP_FIFOCON1", 0x50 + 0xc * 1, "REG_FIFOCON(1)"),
        ("MCP_FIFOSTA1", 0x54 + 0xc * 1, "REG_FIFOSTA(1)"),
        ("MCP_FLTCON", 0x1d0, "REG_FLTCON(0)"),
        ("MCP_FLTOBJ0", 0x1f0, "REG_FLTOBJ(0)"),
        ("MCP_RAM", 0x400, "RAM_START"),
        ("MCP_RAM_BYTES", 2048, "RAM_SIZE"),
        ("MCP_CON_MODE_MASK << MCP_CON_REQOP_SHIFT", 7 << 24, "REG_CON_REQOP_MASK"),
        ("MCP_CON_MODE_MASK << MCP_CON_OPMOD_SHIFT", 7 << 21, "REG_CON_OPMOD_MASK"),
        ("MCP_CON_TXQEN", 1 << 20, "REG_CON_TXQEN"),
        ("MCP_CON_STEF", 1 << 19, "REG_CON_STEF"),
        ("MCP_CON_PXEDIS", 1 << 6, "REG_CON_PXEDIS"),
        ("MCP_CON_ISOCRCEN", 1 << 5, "REG_CON_ISOCRCEN"),
        ("MCP_MODE_FD", 0, "REG_CON_MODE_MIXED"),
        ("MCP_MODE_CONFIGURATION", 4, "REG_CON_MODE_CONFIG"),
        ("MCP_MODE_CLASSIC", 6, "REG_CON_MODE_CAN2_0"),
        ("MCP_INT_RXIF", 1 << 1, "REG_INT_RXIF"),
        ("MCP_INT_TEFIF", 1 << 4, "REG_INT_TEFIF"),
        ("MCP_INT_CERRIF", 1 << 13, "REG_INT_CERRIF"),
        ("MCP_INT_ENABLE(MCP_INT_CERRIF)", 1 << 29, "REG_INT_CERRIE"),
        ("MCP_TREC_TXBO", 1 << 21, "REG_TREC_TXBO"),
        ("MCP_FSIZE(32u)", 0x1f << 24, "REG_FIFOCON_FSIZE_MASK"),
        ("MCP_PLSIZE_64", 0xe0000000, "REG_FIFOCON_PLSIZE_MASK, REG_FIFOCON_PLSIZE_64"),
        ("MCP_TXAT_UNLIMITED", 3 << 21, "REG_TXQCON_TXAT_UNLIMITED, ..._MASK"),
        ("MCP_TXEN", 1 << 7, "REG_TXQCON_TXEN"),
        ("MCP_RXOVIE", 1 << 3, "REG_FIFOCON_RXOVIE"),
        ("MCP_NOT_EMPTY_IE", 1 << 0, "REG_FIFOCON_TFNRFNIE, REG_TEFCON_TEFNEIE"),
        ("MCP_FRESET << 8", 1 << 10, "REG_TXQCON_FRESET"),
        ("MCP_TXREQ << 8", 1 << 9, "REG_TXQCON_TXREQ"),
        ("MCP_UINC << 8", 1 << 8, "REG_TXQCON_UINC"),
        ("MCP_STA_RXOVIF", 1 << 3, "REG_FIFOSTA_RXOVIF"),
        ("MCP_FLTEN", 1 << 7, "REG_FLTCON_FLTEN0"),
        ("0x3FFFFu << MCP_OBJ_EID_SHIFT", 0x1ffff800, "OBJ_ID_EID_MASK"),
        ("1u << MCP_OBJ_SEQ_SHIFT", 1 << 9, "OBJ_FLAGS_SEQ_MASK, lowest bit"),
        ("MCP_OBJ_FDF", 1 << 7, "OBJ_FLAGS_FDF"),
        ("MCP_OBJ_BRS", 1 << 6, "OBJ_FLAGS_BRS"),
        ("MCP_OBJ_RTR", 1 << 5, "OBJ_FLAGS_RTR"),
        ("MCP_OBJ_IDE", 1 << 4, "OBJ_FLAGS_IDE"),
        ("MCP_OBJ_DLC", 0xf, "OBJ_FLAGS_DLC_MASK"),
    ];

    [Fact]
    public void The_mcp2518fds_lie_where_the_driver_says() => Hold("rp2040-mcp2518fd", "mcp2518fd_registers.h", s_mcp2518Fd);

    [Fact]
    public void The_rp2040s_lie_where_its_maker_says() => Hold("common-rp2040", "rp2040_registers.h", s_rp2040);

    /// <param name="parts">What a header expects from board_parts.h or of the board's own.</param>
    /// <param name="beside">The board whose headers it includes, where they are not its own.</param>
    internal static void Hold(string board, string header, IReadOnlyList<(string Ours, long Theirs, string Name)> facts, string parts = "", string? beside = null)
    {
        using var folder = new TempFolder();
        File.Copy(RepoRoot.Path("templates", "boards", board, header), folder.Path(header));
        File.WriteAllText(folder.Path("board_parts.h"), parts);
        File.WriteAllText(folder.Path("print.c"), $$"""
            #include <stdint.h>
            #include <stdio.h>
            #include "board_parts.h"
            #include "{{header}}"
            int main(void)
            {
            {{string.Join('\n', facts.Select(f => $"printf(\"%lld\\n\", (long long)(uint32_t)(uintptr_t)({f.Ours}));"))}}
            return 0;
            }
            """);
        Shell.Must("gcc", ["-w", $"-I{RepoRoot.Path("templates", "boards", beside ?? board)}", "-o", folder.Path("print"), folder.Path("print.c")]);
        var ours = Shell.Must(folder.Path("print"), []).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => long.Parse(l, CultureInfo.InvariantCulture));
        Assert.Equal(facts.Select(f => $"{f.Name} 0x{f.Theirs:X8}"), facts.Zip(ours, (f, value) => $"{f.Name} 0x{value:X8}"));
    }
}
