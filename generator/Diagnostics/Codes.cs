namespace Locum.Diagnostics;

/// <summary>Every kind of finding. Hundreds by area: 01 files and YAML, 02 shape, 03 buses and inputs, 04 modes, 05 frames, 06 fields, 07 counters and checksums, 08 hazards, 09 projects and boards, 10 stimulus, 11 formulas, 12 captures, 13 diagnostic channels, 15 SAE J1939, 16 the bench.</summary>
public static class Codes
{
    public static readonly Code CannotRead = Error("LC0101", "file cannot be read", "The path must name a readable text file.");
    public static readonly Code Empty = Error("LC0102", "nothing in the file", "A description starts with the line 'locum: 1'.");
    public static readonly Code NotYaml = Error("LC0103", "not valid YAML", "The text breaks a rule of YAML 1.2; nothing after this place was read.");
    public static readonly Code DuplicateKey = Error("LC0104", "key given twice", "YAML allows a key once in a mapping; which of the two was meant is not guessed.");
    public static readonly Code Alias = Error("LC0105", "anchor, alias or tag", "Descriptions say everything in place, so that a review sees what a line means.");
    public static readonly Code TooLarge = Error("LC0106", "file too large or nested too deeply", "Descriptions are limited to 4 MiB and 32 levels.");
    public static readonly Code NotUtf8 = Error("LC0107", "not UTF-8 text", "Descriptions are UTF-8 text.");
    public static readonly Code SeveralDocuments = Error("LC0108", "several documents in one file", "One file describes one module.");

    public static readonly Code WrongVersion = Error("LC0201", "unknown language version", "The first key states the version of the description language.");
    public static readonly Code UnknownKey = Error("LC0202", "unknown key", "A key that is not known has no effect, which is rarely meant.");
    public static readonly Code MissingKey = Error("LC0203", "key missing", "There is no sensible default for it.");
    public static readonly Code WrongShape = Error("LC0204", "wrong kind of value", "Another kind of value is expected here.");
    public static readonly Code NotANumber = Error("LC0205", "not a number", "A whole number, decimal or hexadecimal with 0x.");
    public static readonly Code BadUnit = Error("LC0206", "quantity without a known unit", "Quantities carry their unit, so that a reader needs no manual.");
    public static readonly Code BadName = Error("LC0207", "unusable name", "Names are letters, digits, space, '-', '_' and '.', starting with a letter, at most 48 characters.");
    public static readonly Code UnknownWord = Error("LC0208", "unknown word", "Only the listed words have a meaning here.");
    public static readonly Code OutOfRange = Error("LC0209", "value out of range", "The value lies outside what the rules or the hardware allow.");
    public static readonly Code BadBytes = Error("LC0210", "not a row of bytes", "Bytes are two hexadecimal digits each, separated by spaces.");
    public static readonly Code NameClash = Error("LC0211", "two names become one", "In the generated C the two names would be the same.");
    public static readonly Code TooMany = Error("LC0212", "too many entries", "The firmware's tables have fixed limits.");

    public static readonly Code UnknownBus = Error("LC0301", "unknown bus", "Frames name a bus of this description.");
    public static readonly Code BadRate = Error("LC0302", "unusable bit rate", "Classic CAN runs at 5 to 1000 kbit/s (ISO 11898-1, ISO 11898-2); the data phase of CAN FD at up to 8 Mbit/s.");
    public static readonly Code UnusedBus = Warning("LC0303", "bus without frames", "A controller would be set up for nothing.");
    public static readonly Code Overload = Error("LC0304", "bus overloaded", "The frames of this description alone need more time than the bus has.");
    public static readonly Code HighLoad = Warning("LC0305", "high bus load", "The rest of the vehicle needs the bus as well.");
    public static readonly Code UnknownInput = Error("LC0306", "unknown input", "Conditions name an input of this description.");

    public static readonly Code UnknownReceived = Error("LC0307", "unknown received field", "Fields follow a field of a frame listed under 'receives'.");
    public static readonly Code OwnFrameReceived = Error("LC0308", "own frame listened to", "A board does not receive what it sends itself.");

    public static readonly Code UnknownMode = Error("LC0401", "unknown mode", "Only modes of this description can be entered or named.");
    public static readonly Code DeadMode = Warning("LC0402", "mode is never entered", "No way leads from the first mode to it.");
    public static readonly Code LoopedMode = Error("LC0403", "modes that chase each other", "Two modes would change into each other without time passing.");
    public static readonly Code ModeTimer = Error("LC0404", "incomplete time in mode", "'for' says how long a mode lasts and 'then' what follows; one needs the other.");
    public static readonly Code SelfMode = Error("LC0405", "mode leads to itself", "A change into the same mode has no effect.");

    public static readonly Code BadIdentifier = Error("LC0501", "identifier does not fit", "11-bit identifiers reach 0x7FF, 29-bit ones 0x1FFFFFFF.");
    public static readonly Code SameIdentifier = Error("LC0502", "identifier used twice", "Two frames with one identifier on one bus collide and read as one to a receiver.");
    public static readonly Code BadLength = Error("LC0503", "length does not fit", "A classic CAN frame carries 0 to 8 bytes, CAN FD also 12, 16, 20, 24, 32, 48 or 64.");
    public static readonly Code BaseLength = Error("LC0504", "base does not match the length", "The base payload gives every byte of the frame.");
    public static readonly Code TooFast = Error("LC0505", "period shorter than the frame", "The next frame would be due before this one has left the wire.");
    public static readonly Code OffsetBeyondPeriod = Note("LC0506", "offset longer than the period", "The first frame waits longer than one period; often a slip.");
    public static readonly Code NeverSent = Error("LC0507", "frame is never sent", "Its modes are never entered.");
    public static readonly Code FdMismatch = Error("LC0520", "CAN FD without a data rate", "A bus with a data rate carries CAN FD; to a classic controller such a frame is an error.");

    public static readonly Code UnknownFrame = Error("LC0508", "unknown frame", "Events name a frame of this description.");
    public static readonly Code EventCircle = Error("LC0509", "frames that send each other", "Each release would lead to the next without end.");
    public static readonly Code UnknownField = Error("LC0510", "unknown field", "Changes name a field of the same frame.");
    public static readonly Code NoChange = Error("LC0511", "field that does not change", "Only values by mode and followed values change by themselves.");

    public static readonly Code FieldOutside = Error("LC0601", "field outside the frame", "Every bit of a field lies in the payload.");
    public static readonly Code FieldOverlap = Error("LC0602", "fields overlap", "Two fields write the same bit; one would spoil the other.");
    public static readonly Code ValueOutside = Error("LC0603", "value does not fit the field", "The raw value must be representable in the field's bits.");
    public static readonly Code ValueRounded = Warning("LC0604", "value is rounded", "The scale cannot express the value exactly.");
    public static readonly Code UnknownValueName = Error("LC0605", "unknown value name", "The name is not in the field's list of names.");
    public static readonly Code ModeWithoutValue = Error("LC0606", "mode without a value", "The frame is sent in a mode for which the field has no value.");
    public static readonly Code TwoSources = Error("LC0607", "field with two sources", "A field is a value, a counter or a checksum.");
    public static readonly Code BadScale = Error("LC0608", "unusable scale", "A scale of zero has no inverse.");
    public static readonly Code ValueForUnsentMode = Warning("LC0609", "value for a mode in which the frame is silent", "The value is never sent.");

    public static readonly Code NoSteadyPeriod = Error("LC0610", "moving value without a steady period", "Ramps, noise, delay and slew are counted in releases of the frame.");

    public static readonly Code CounterFit = Error("LC0701", "counter does not fit", "Every value of the counter must be representable in the field's bits.");
    public static readonly Code UnknownCounter = Error("LC0702", "unknown counter", "Shared counters are listed under 'counters'.");
    public static readonly Code CounterStep = Error("LC0703", "counter that does not move", "From, to and step must give at least two values.");
    public static readonly Code UnusedCounter = Warning("LC0704", "counter is not used", "No field refers to it.");
    public static readonly Code UnknownRule = Error("LC0705", "unknown checksum rule", "Rules are a catalogue name or a mapping of parameters.");
    public static readonly Code ChecksumCoversItself = Error("LC0706", "checksum covers itself", "The value would depend on itself.");
    public static readonly Code ChecksumRange = Error("LC0707", "checksum range outside the frame", "Byte numbers run from 0 to length - 1.");
    public static readonly Code ChecksumWidth = Error("LC0708", "checksum does not fit the field", "The field's width and the rule's width differ.");
    public static readonly Code ChecksumOrder = Warning("LC0709", "checksum covers a later checksum", "Checksums are computed in order of definition; the later one still holds its base value.");
    public static readonly Code SecretLength = Error("LC0710", "secret list too short", "There must be one secret byte for every counter value.");
    public static readonly Code ProtectLength = Error("LC0719", "protection does not fit the frame", "An end-to-end profile needs room for its header and has a largest length.");

    public static readonly Code UnknownHazard = Error("LC0801", "unknown hazard", "The hazard class decides which cautions every output repeats.");
    public static readonly Code NotAcknowledged = Error("LC0802", "hazard without acknowledgement", "Someone has to take responsibility in version control before code is generated.");
    public static readonly Code NothingToAcknowledge = Warning("LC0803", "acknowledgement without hazard", "There is nothing to acknowledge with 'hazard: none'.");

    public static readonly Code UnknownBoard = Error("LC0901", "unknown board", "'locum boards' lists the boards.");
    public static readonly Code TooManyBuses = Error("LC0902", "more buses than controllers", "Each bus needs a controller of its own.");
    public static readonly Code BusMismatch = Error("LC0903", "one bus, two settings", "Modules on one board that name the same bus share its controller.");
    public static readonly Code NoTiming = Error("LC0904", "bit rate cannot be made", "No divider of the controller's clock gives this rate.");
    public static readonly Code PinTaken = Error("LC0905", "pin used twice", "Every pin has one job.");
    public static readonly Code UnknownPin = Error("LC0906", "unknown or reserved pin", "The board has no such free pin.");
    public static readonly Code StartsTooLate = Error("LC0907", "board starts too late", "The board is not running yet when the first frame or output is due.");
    public static readonly Code InputMismatch = Error("LC0908", "one input, two settings", "Modules on one board that name the same input share its pin.");
    public static readonly Code ModuleTwice = Error("LC0909", "module on two boards", "Both boards would send the same frames.");
    public static readonly Code SamplePointOff = Warning("LC0910", "sample point missed", "The controller's clock cannot place the sample point as asked; nodes with different sample points tolerate less clock error.");
    public static readonly Code NoFd = Error("LC0911", "board without CAN FD", "A classic controller destroys every CAN FD frame on its bus.");

    public static readonly Code NoRam = Error("LC0912", "not enough RAM", "Variables and stack share the board's RAM.");

    public static readonly Code OutputTwice = Error("LC0913", "two outputs on one wire", "Outputs of one name would drive the same wire against each other.");
    public static readonly Code WireMismatch = Error("LC0914", "wire with two meanings", "An output and inputs of the same name are one wire.");

    public static readonly Code NoOutputPin = Error("LC0915", "output without a pin", "What switches a load is chosen by a person, not by default.");
    public static readonly Code ClockTolerance = Error("LC0930", "clock not accurate enough", "The bits of a frame drift apart until a node samples the wrong one (ISO 11898-1).");

    // LC0920 is gone: every board has every guard.

    public static readonly Code StimulusTarget = Error("LC1001", "stimulus names something unknown", "A stimulus drives inputs and buses of the description.");
    public static readonly Code StimulusOrder = Error("LC1002", "stimulus runs backwards", "Times rise from entry to entry.");

    public static readonly Code FormulaSyntax = Error("LC1101", "not a formula", "Formulas are expressions on whole numbers as in C, without assignments.");
    public static readonly Code FormulaOperator = Error("LC1102", "no part of formulas", "Only the listed operators and helpers have a meaning in formulas.");
    public static readonly Code FormulaSize = Error("LC1103", "formula too large", "Time and stack of the firmware stay bounded.");
    public static readonly Code FormulaNumber = Error("LC1104", "number not usable in a formula", "Formulas compute with 32-bit signed numbers: decimal, 0x or 0b.");
    public static readonly Code FormulaName = Error("LC1105", "unknown name in a formula", "A formula reads fields of its frame, received fields, id, length and mode.");
    public static readonly Code FormulaCall = Error("LC1106", "helper used wrongly", "Helpers take a fixed number of values; numbers of bytes and bits are constant.");
    public static readonly Code FormulaOrder = Error("LC1107", "formula reads what comes later", "Values and counters are written first, then formulas in order of definition, then checksums.");
    public static readonly Code FormulaWide = Error("LC1108", "field too wide for a formula", "Formulas compute with 32-bit signed numbers; more bits would lose their meaning.");
    public static readonly Code FormulaMode = Error("LC1109", "mode used wrongly in a formula", "A mode has no number; it can be compared with the name of a mode.");
    public static readonly Code FormulaZero = Error("LC1110", "division by zero", "The result is always 0.");
    public static readonly Code FormulaMayBeZero = Warning("LC1111", "possible division by zero", "A division by zero gives 0.");
    public static readonly Code FormulaShift = Error("LC1112", "unusable shift count", "Shifts by less than 0 or more than 31 give 0.");
    public static readonly Code FormulaMayShift = Warning("LC1113", "shift count that may be unusable", "Shifts by less than 0 or more than 31 give 0.");
    public static readonly Code FormulaWraps = Error("LC1114", "result always wraps around", "Results are cut to 32 bits signed.");
    public static readonly Code FormulaMayWrap = Warning("LC1115", "result may wrap around", "Results are cut to 32 bits signed.");
    public static readonly Code FormulaFit = Error("LC1116", "formula never fits the field", "The value is cut to the field's bits.");
    public static readonly Code FormulaMayNotFit = Warning("LC1117", "formula may not fit the field", "The value is cut to the field's bits.");
    public static readonly Code FormulaKey = Error("LC1118", "key without effect beside a formula", "A formula says itself which bytes it reads.");
    public static readonly Code FormulaReadsLater = Warning("LC1119", "formula reads bytes that are written later", "The bits of later formulas and checksums are still 0.");

    public static readonly Code EmptyCapture = Error("LC1201", "nothing in the capture", "Nothing can be said about a file without frames.");
    public static readonly Code UnknownCapture = Error("LC1202", "unknown form of capture", "pcap, pcapng, text logs and tables of many shapes can be read, compressed with gzip or not.");
    public static readonly Code NoCan = Error("LC1203", "capture without CAN", "Packets of other networks say nothing about a module's frames.");
    public static readonly Code NoFrames = Warning("LC1204", "capture without frames", "A silent bus may be what was recorded, or a logger that was not connected.");
    public static readonly Code LayoutColumns = Error("LC1205", "columns of a layout that contradict each other", "A layout says of each column one thing.");
    public static readonly Code LayoutMisfit = Error("LC1206", "layout that does not fit", "Where no row can be read as the layout says, it belongs to another file.");

    public static readonly Code NotAscii = Error("LC1301", "text that is not ASCII", "What is read from an identifier is bytes; only ASCII has one meaning as bytes.");
    public static readonly Code IdentifierTwice = Error("LC1302", "data identifier described twice", "A request for it has one answer.");
    public static readonly Code SeparationCode = Error("LC1303", "separation without a code", "Flow control knows whole milliseconds up to 127 and 100 to 900 us in steps of 100.");

    public static readonly Code BadGroup = Error("LC1501", "not a parameter group to answer with", "Numbers reach 0x3FFFF; those whose second byte is below 0xF0 end with 00 (SAE J1939-21).");
    public static readonly Code GroupTwice = Error("LC1502", "parameter group described twice", "A request for it has one answer.");
    public static readonly Code NameBytes = Error("LC1503", "NAME without 8 bytes", "The NAME of a node has 64 bits (SAE J1939-81).");
    public static readonly Code AnswerFrame = Error("LC1504", "frame is not the parameter group", "Who asks for a group waits for its number from the node's address.");
    public static readonly Code NodeFrame = Error("LC1505", "frame of the node described as well", "A node sends its claim, refusals, transfers and answers by itself; two senders of one identifier disturb each other.");
    public static readonly Code AddressTwice = Error("LC1506", "address used twice", "Of two nodes with one address on one bus the one with the higher NAME falls silent.");
    public static readonly Code HeldFrame = Warning("LC1507", "frame without an address", "Frames that carry a node's address are held while the node does not take part.");

    public static readonly Code BenchRange = Error("LC1601", "range of the bench that runs backwards", "A range goes from its lower to its higher end.");
    public static readonly Code NoResistor = Error("LC1602", "no standard resistor for the window", "Neither a value of the series nor a pair of them stays in the window with its tolerance.");
    public static readonly Code TooHot = Error("LC1603", "part too hot to carry power", "At the ambient temperature the part's derating leaves it no power at all.");
    public static readonly Code BenchTimes = Error("LC1604", "times of the bench that do not fit together", "Stages start at 0 and rise; what comes again ends before it does.");
    public static readonly Code NoHoldUp = Error("LC1605", "capacitor that cannot hold", "A capacitor delivers while its voltage falls from the supply's to the lowest usable one.");
    public static readonly Code BenchName = Error("LC1606", "bench names something unknown", "Bus wiring and pins refer to parts of the same description.");
    public static readonly Code WrongTermination = Warning("LC1607", "bus not terminated as it should be", "Transceivers drive 50 to 65 ohm (ISO 11898-2); with other loads levels and edges suffer.");
    public static readonly Code LongStub = Warning("LC1608", "stub too long", "Reflections of a long stub reach into the sampled part of the bit.");
    public static readonly Code ThinWire = Warning("LC1609", "wire too thin for its fuse", "The wire would burn before the fuse opens.");

    public static readonly Code NeverOn = Error("LC1701", "output is never on", "Its modes are never entered.");
    public static readonly Code OwnWire = Error("LC1702", "output that switches itself", "It is on while its own wire is off: the pin would toggle as fast as the board can.");
    public static readonly Code Runaway = Error("LC1703", "output that switches without end", "It depends on itself through wires, modes or other boards; the pin toggles as fast as the boards can.");

    /// <summary>All kinds, by number.</summary>
    /// <remarks>Found on request only: every run needs some of the codes, few need the list.</remarks>
    public static IReadOnlyList<Code> All =>
    [
        .. typeof(Codes).GetFields()
            .Where(f => f.FieldType == typeof(Code))
            .Select(f => (Code)f.GetValue(null)!)
            .OrderBy(c => c.Id, StringComparer.Ordinal),
    ];

    private static Code Error(string id, string title, string help) => new(id, Severity.Error, title, help);

    private static Code Warning(string id, string title, string help) => new(id, Severity.Warning, title, help);

    private static Code Note(string id, string title, string help) => new(id, Severity.Note, title, help);
}
