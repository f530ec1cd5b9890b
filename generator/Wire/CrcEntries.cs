namespace Locum.Wire;

/// <summary>The rows of <see cref="CrcCatalogue"/>.</summary>
internal static class CrcEntries
{
    // Parameters, check values and aliases of the published catalogue of parametrised CRC algorithms, from
    // memory; every check value is recomputed in the tests. crc8-sae-j1850-zero is no catalogue name: it is
    // the polynomial of SAE J1850 with start value and final XOR 0, which the AUTOSAR E2E profiles 1 and 11 use.
    // Columns: name, width, poly, init, reflected (in and out), final XOR, check value, aliases.
    public static readonly CrcEntry[] All =
    [
        E("crc8-autosar", 8, 0x2F, 0xFF, false, 0xFF, 0xDF),
        E("crc8-bluetooth", 8, 0xA7, 0x00, true, 0x00, 0x26),
        E("crc8-cdma2000", 8, 0x9B, 0xFF, false, 0x00, 0xDA),
        E("crc8-darc", 8, 0x39, 0x00, true, 0x00, 0x15),
        E("crc8-dvb-s2", 8, 0xD5, 0x00, false, 0x00, 0xBC),
        E("crc8-gsm-a", 8, 0x1D, 0x00, false, 0x00, 0x37),
        E("crc8-gsm-b", 8, 0x49, 0x00, false, 0xFF, 0x94),
        E("crc8-hitag", 8, 0x1D, 0xFF, false, 0x00, 0xB4),
        E("crc8-i-432-1", 8, 0x07, 0x00, false, 0x55, 0xA1, "crc8-itu"),
        E("crc8-i-code", 8, 0x1D, 0xFD, false, 0x00, 0x7E),
        E("crc8-lte", 8, 0x9B, 0x00, false, 0x00, 0xEA),
        E("crc8-maxim-dow", 8, 0x31, 0x00, true, 0x00, 0xA1, "crc8-maxim"),
        E("crc8-mifare-mad", 8, 0x1D, 0xC7, false, 0x00, 0x99),
        E("crc8-nrsc-5", 8, 0x31, 0xFF, false, 0x00, 0xF7),
        E("crc8-opensafety", 8, 0x2F, 0x00, false, 0x00, 0x3E),
        E("crc8-rohc", 8, 0x07, 0xFF, true, 0x00, 0xD0),
        E("crc8-sae-j1850", 8, 0x1D, 0xFF, false, 0xFF, 0x4B),
        E("crc8-sae-j1850-zero", 8, 0x1D, 0x00, false, 0x00, 0x37),
        E("crc8-smbus", 8, 0x07, 0x00, false, 0x00, 0xF4, "crc8"),
        E("crc8-tech-3250", 8, 0x1D, 0xFF, true, 0x00, 0x97, "crc8-aes", "crc8-ebu"),
        E("crc8-wcdma", 8, 0x9B, 0x00, true, 0x00, 0x25),
        E("crc16-arc", 16, 0x8005, 0x0000, true, 0x0000, 0xBB3D, "crc16"),
        E("crc16-cdma2000", 16, 0xC867, 0xFFFF, false, 0x0000, 0x4C06),
        E("crc16-cms", 16, 0x8005, 0xFFFF, false, 0x0000, 0xAEE7),
        E("crc16-dds-110", 16, 0x8005, 0x800D, false, 0x0000, 0x9ECF),
        E("crc16-dect-r", 16, 0x0589, 0x0000, false, 0x0001, 0x007E),
        E("crc16-dect-x", 16, 0x0589, 0x0000, false, 0x0000, 0x007F),
        E("crc16-dnp", 16, 0x3D65, 0x0000, true, 0xFFFF, 0xEA82),
        E("crc16-en-13757", 16, 0x3D65, 0x0000, false, 0xFFFF, 0xC2B7),
        E("crc16-genibus", 16, 0x1021, 0xFFFF, false, 0xFFFF, 0xD64E),
        E("crc16-gsm", 16, 0x1021, 0x0000, false, 0xFFFF, 0xCE3C),
        E("crc16-ibm-3740", 16, 0x1021, 0xFFFF, false, 0x0000, 0x29B1, "crc16-ccitt-false", "crc16-autosar"),
        E("crc16-ibm-sdlc", 16, 0x1021, 0xFFFF, true, 0xFFFF, 0x906E, "crc16-x-25"),
        E("crc16-kermit", 16, 0x1021, 0x0000, true, 0x0000, 0x2189, "crc16-ccitt", "crc16-ccitt-true"),
        E("crc16-modbus", 16, 0x8005, 0xFFFF, true, 0x0000, 0x4B37),
        E("crc16-profibus", 16, 0x1DCF, 0xFFFF, false, 0xFFFF, 0xA819, "crc16-iec-61158-2"),
        E("crc16-spi-fujitsu", 16, 0x1021, 0x1D0F, false, 0x0000, 0xE5CC, "crc16-aug-ccitt"),
        E("crc16-t10-dif", 16, 0x8BB7, 0x0000, false, 0x0000, 0xD0DB),
        E("crc16-teledisk", 16, 0xA097, 0x0000, false, 0x0000, 0x0FB3),
        E("crc16-umts", 16, 0x8005, 0x0000, false, 0x0000, 0xFEE8, "crc16-buypass"),
        E("crc16-usb", 16, 0x8005, 0xFFFF, true, 0xFFFF, 0xB4C8),
        E("crc16-xmodem", 16, 0x1021, 0x0000, false, 0x0000, 0x31C3),
        E("crc32-iso-hdlc", 32, 0x04C11DB7, 0xFFFFFFFF, true, 0xFFFFFFFF, 0xCBF43926, "crc32"),
        E("crc32-autosar", 32, 0xF4ACFB13, 0xFFFFFFFF, true, 0xFFFFFFFF, 0x1697D06A),
        E("crc32-iscsi", 32, 0x1EDC6F41, 0xFFFFFFFF, true, 0xFFFFFFFF, 0xE3069283, "crc32-c", "crc32-castagnoli"),
        E("crc64-xz", 64, 0x42F0E1EBA9EA3693, 0xFFFFFFFFFFFFFFFF, true, 0xFFFFFFFFFFFFFFFF, 0x995DC9BBDF1939FA, "crc64-go-ecma"),
    ];

    private static CrcEntry E(
        string name, int width, ulong poly, ulong init, bool reflected, ulong xorOut, ulong check, params string[] aliases) =>
        new(new CrcParameters(name, width, poly, init, reflected, reflected, xorOut), check, aliases);
}
