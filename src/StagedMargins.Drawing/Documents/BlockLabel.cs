using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Documents;

/// <summary>What stands on the label of a block. Nothing of the patient: a slide travels further than the record.</summary>
/// <param name="CaseNumber">The case's number in the clinic.</param>
/// <param name="Stage">The stage.</param>
/// <param name="Block">The block's label.</param>
/// <param name="Piece">The piece it was cut from, where that was said.</param>
/// <param name="FromInk">Ink where its arc begins.</param>
/// <param name="ToInk">Ink where its arc ends.</param>
/// <param name="Address">The block's address, for its QR code.</param>
public sealed record BlockLabel(string CaseNumber, int Stage, string Block, int? Piece, string? FromInk, string? ToInk, Uri Address)
{
    /// <summary>The label of a block.</summary>
    public static BlockLabel Of(SurgicalCase surgicalCase, Stage stage, Block block, Uri address) =>
        new(surgicalCase.CaseNumber, stage.Number, block.Label, block.PieceNumber, block.FromInk, block.ToInk, address);
}
