using System.Buffers.Binary;
using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Access;

/// <summary>
/// A WebAuthn authenticator in software, ES256, attestation "none", written after WebAuthn Level 3 sections 6.1, 6.5 and 7 and RFC
/// 9053 (COSE keys) from memory. It stands for the browser and the device together.
/// </summary>
public sealed class SoftAuthenticator(string origin, string domain) : IDisposable
{
    private const byte UserPresent = 0x01;
    private const byte UserVerified = 0x04;
    private const byte KeyIncluded = 0x40;

    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly byte[] id = RandomNumberGenerator.GetBytes(32);
    private string userHandle = "";
    private uint count;

    /// <summary>Whether it asks its user for a finger, face or number.</summary>
    public bool Verifies { get; init; } = true;

    /// <summary>What navigator.credentials.create gives for options.</summary>
    public JsonObject Create(JsonNode options)
    {
        userHandle = options["user"]!["id"]!.GetValue<string>();
        var client = ClientData("webauthn.create", options);
        var parameters = key.ExportParameters(false);
        byte[] cose = [0xA5, 0x01, 0x02, 0x03, 0x26, 0x20, 0x01, 0x21, 0x58, 0x20, .. parameters.Q.X!, 0x22, 0x58, 0x20, .. parameters.Q.Y!];
        byte[] data = [.. Head(KeyIncluded), .. new byte[16], 0x00, (byte)id.Length, .. id, .. cose];
        byte[] attestation = [0xA3, .. Text("fmt"), .. Text("none"), .. Text("attStmt"), 0xA0, .. Text("authData"), 0x58, (byte)data.Length, .. data];
        return Credential(new JsonObject
        {
            ["clientDataJSON"] = Base64Url.EncodeToString(client),
            ["attestationObject"] = Base64Url.EncodeToString(attestation),
            ["transports"] = new JsonArray("internal"),
        });
    }

    /// <summary>What navigator.credentials.get gives for options.</summary>
    public JsonObject Get(JsonNode options)
    {
        var client = ClientData("webauthn.get", options);
        var data = Head(0);
        byte[] signed = [.. data, .. SHA256.HashData(client)];
        return Credential(new JsonObject
        {
            ["clientDataJSON"] = Base64Url.EncodeToString(client),
            ["authenticatorData"] = Base64Url.EncodeToString(data),
            ["signature"] = Base64Url.EncodeToString(key.SignData(signed, HashAlgorithmName.SHA256, DSASignatureFormat.Rfc3279DerSequence)),
            ["userHandle"] = userHandle,
        });
    }

    public void Dispose() => key.Dispose();

    private static byte[] Text(string text) => [(byte)(0x60 | text.Length), .. Encoding.ASCII.GetBytes(text)];

    private byte[] ClientData(string type, JsonNode options) => JsonSerializer.SerializeToUtf8Bytes(new
    {
        type,
        challenge = options["challenge"]!.GetValue<string>(),
        origin,
        crossOrigin = false,
    });

    private byte[] Head(byte flags)
    {
        var counter = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(counter, ++count);
        return [.. SHA256.HashData(Encoding.ASCII.GetBytes(domain)), (byte)(flags | UserPresent | (Verifies ? UserVerified : 0)), .. counter];
    }

    private JsonObject Credential(JsonObject response) => new()
    {
        ["id"] = Base64Url.EncodeToString(id),
        ["rawId"] = Base64Url.EncodeToString(id),
        ["type"] = "public-key",
        ["authenticatorAttachment"] = "platform",
        ["clientExtensionResults"] = new JsonObject(),
        ["response"] = response,
    };
}
