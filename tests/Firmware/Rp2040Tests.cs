using System.Buffers.Binary;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>What only the RP2040 has: the boot's second stage, UF2 files.</summary>
public sealed class Rp2040Tests
{
    private const string Kind = "rp2040-mcp2515";
    private const double ToleranceUs = 100;

    // The ROM's check: datasheet of the RP2040, "Flash Second Stage"; its CRC is CRC-32/MPEG-2 of the CRC catalogue.
    [Fact]
    public void The_second_stage_of_the_boot_carries_its_checksum()
    {
        using var folder = Built();
        var flash = File.ReadAllBytes(Path.Combine(folder.Root, "firmware.bin"));
        Assert.Equal(Crc(flash.AsSpan(0, 252)), BinaryPrimitives.ReadUInt32LittleEndian(flash.AsSpan(252)));
        Assert.Equal(0x0376E6E7u, Crc("123456789"u8)); // the catalogue's check value
        // The vector table behind it: a stack within the RAM, an entry in flash, in Thumb.
        Assert.InRange(BinaryPrimitives.ReadUInt32LittleEndian(flash.AsSpan(256)), 0x2000_0400u, 0x2004_0000u);
        var entry = BinaryPrimitives.ReadUInt32LittleEndian(flash.AsSpan(260));
        Assert.Equal(1u, entry & 1);
        Assert.InRange(entry, 0x1000_0100u, 0x1000_0100u + (uint)flash.Length);
    }

    // The published UF2 specification: blocks of 512 bytes, magic numbers at both ends; the family is in its list.
    [Fact]
    public void The_uf2_file_holds_the_flash_image()
    {
        using var folder = Built();
        var flash = File.ReadAllBytes(Path.Combine(folder.Root, "firmware.bin"));
        var uf2 = File.ReadAllBytes(Path.Combine(folder.Root, "firmware.uf2"));
        var blocks = (flash.Length + 255) / 256;
        Assert.Equal(512 * blocks, uf2.Length);
        for (var i = 0; i < blocks; i++)
        {
            var block = uf2.AsSpan(512 * i, 512);
            uint[] words = [0x0A324655, 0x9E5D5157, 0x00002000, 0x10000000u + 256u * (uint)i, 256, (uint)i, (uint)blocks, 0xE48BFF56];
            for (var w = 0; w < words.Length; w++)
                Assert.Equal(words[w], BinaryPrimitives.ReadUInt32LittleEndian(block[(4 * w)..]));
            Assert.Equal(0x0AB16F30u, BinaryPrimitives.ReadUInt32LittleEndian(block[508..]));
            var expected = new byte[256];
            flash.AsSpan(256 * i, Math.Min(256, flash.Length - 256 * i)).CopyTo(expected);
            Assert.Equal(expected, block.Slice(32, 256).ToArray());
        }
    }

    [Fact]
    public void A_second_stage_that_is_too_long_is_refused()
    {
        using var folder = Built();
        var image = Path.Combine(folder.Root, "objects", "image");
        File.WriteAllBytes(Path.Combine(folder.Root, "long"), new byte[257]);
        var (code, _, error) = Shell.Run(image, ["boot2", "long", "out"], folder.Root);
        Assert.Equal(1, code);
        Assert.Contains("1 to 256 bytes", error, StringComparison.Ordinal);
        Assert.Equal(1, Shell.Run(image, ["uf2", "missing", "out"], folder.Root).Code);
        Assert.Equal(2, Shell.Run(image, [], folder.Root).Code);
    }

    private static uint Crc(ReadOnlySpan<byte> bytes) =>
        (uint)Locum.Wire.Crc.Compute(new CrcParameters("crc-32/mpeg-2", 32, 0x04C11DB7, 0xFFFFFFFF, false, false, 0), bytes);

    private static FirmwareFolder Built()
    {
        var folder = new FirmwareFolder(OtherBoards.Demo("cab", Kind).Plan);
        Assert.Equal("", folder.Make());
        return folder;
    }
}
