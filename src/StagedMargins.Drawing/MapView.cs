namespace StagedMargins.Drawing;

/// <summary>From which side a map is seen. 12 o'clock is up in both.</summary>
public enum MapView
{
    /// <summary>As one faces the skin: positions run clockwise, 3 o'clock on the right. The view to cut by.</summary>
    Patient,

    /// <summary>As the tissue's deep side, or its slide, shows it: mirrored, 3 o'clock on the left. Words stay readable.</summary>
    Slide,
}
