namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>Values that programs stumble over.</summary>
/// <param name="random">Chance.</param>
public sealed class FuzzValues(Random random)
{
    private static readonly string[] Texts =
    [
        "", " ", "\0", "\u0001", "\r\nX-Injected: 1", "a\0b", "\uFEFF", "\u202Eabc", "e\u0301", "😀", "𝔘𝔫𝔦", "ﷺ", "İ", "ß", "\uFFFF", "' OR 1=1 --", "\"", "\\", "%", "_", "%00", "..%2f..", "<script>alert(1)</script>",
        "${jndi:x}", "{0}", "null", "true", "NaN", "-1", "0x10", "12:00", "24:00", "00:00", "12:60", "7:30", "07:30", "１２:００", "2026-13-45T00:00:00Z", "2026-03-03T09:10:00", "2026-03-03T09:10:00-05:00",
        "9999-12-31T23:59:59.9999999+14:00", "9999-12-31T23:59:59-14:00", "0001-01-01T00:00:00Z", "0001-01-01T00:00:00+14:00", "2026-02-29T00:00:00Z", "2026-03-03T24:00:00Z", "C44.3", "C99.9", "8070/3", "clear", "tumour", "CLEAR",
        "00000000-0000-0000-0000-000000000000", "ffffffff-ffff-ffff-ffff-ffffffffffff", "A", "B", "AAAAA", "whole", "rim", "cleared", "surgeon@nowhere.invalid",
    ];

    private static readonly string[] Raw =
    [
        "0", "-0", "-1", "1", "2", "0.1", "1e-400", "1e308", "1e309", "-1e309", "1e999999999", "2147483647", "2147483648", "-2147483649", "9223372036854775807", "9223372036854775808", "79228162514264337593543950336",
        "0.00000000000000000000000000000000001", "300", "300.001", "NaN", "Infinity", "-Infinity", "01", "+1", ".5", "0x1F", "true", "false", "null", "[]", "{}", "[null]", "[[]]", "[1,2]", "[0.25,0.5]", "[1,0]", "{\"a\":1}", "undefined", "'x'", "\"\\ud800\"", "\"\\udc00x\"", "\"\\u0000\"", "\"\\x\"",
    ];

    /// <summary>A text.</summary>
    public string Text() => random.Next(12) switch
    {
        0 => new string('x', random.Next(1, 5000)),
        1 => new string('ß', random.Next(1, 300)),
        2 => string.Concat(Enumerable.Range(0, random.Next(1, 40)).Select(_ => char.ConvertFromUtf32(random.Next(0x20, 0xD7FF)))),
        _ => Texts[random.Next(Texts.Length)],
    };

    /// <summary>A piece of what may or may not be JSON.</summary>
    public string Json() => random.Next(14) switch
    {
        0 => Nested(random.Next(1, 3000)),
        1 => $"[{string.Join(',', Enumerable.Repeat("1", random.Next(1, 20_000)))}]",
        2 => $"[{string.Join(',', Enumerable.Repeat("[1,2]", random.Next(1, 6000)))}]",
        3 => new string('9', random.Next(1, 2000)),
        4 or 5 or 6 => System.Text.Json.JsonSerializer.Serialize(Text()),
        _ => Raw[random.Next(Raw.Length)],
    };

    private static string Nested(int depth) => depth % 2 == 0
        ? new string('[', depth) + new string(']', depth)
        : string.Concat(Enumerable.Repeat("{\"a\":", depth)) + "1" + new string('}', depth);
}
