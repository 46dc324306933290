using SkiaSharp;

namespace StationFleet.Web.Service.Photographs;

/// <summary>A picture drawn anew as a JPEG: nothing of the sent file remains but what is seen, so no place, no name of a phone.</summary>
/// <param name="Jpeg">The new file.</param>
/// <param name="Width">In pixels.</param>
/// <param name="Height">In pixels.</param>
internal sealed record Picture(byte[] Jpeg, int Width, int Height)
{
    /// <summary>The most that one sent picture may weigh, in bytes: the phone shrinks them to far less.</summary>
    public const int MostBytes = 12 * 1024 * 1024;

    private const int LongestSide = 1600;

    // 50 megapixels are 200 MB once unpacked; more is no photograph of a tank but a bomb.
    private const long MostPixels = 50_000_000;
    private const int Quality = 80;

    /// <summary>Reads a sent file; null when it is no JPEG, PNG or WebP picture, or too large in pixels.</summary>
    public static Picture? From(byte[] sent)
    {
        using SKData data = SKData.CreateCopy(sent);
        using SKCodec? codec = SKCodec.Create(data);
        if (codec is not { EncodedFormat: SKEncodedImageFormat.Jpeg or SKEncodedImageFormat.Png or SKEncodedImageFormat.Webp }
            || (long)codec.Info.Width * codec.Info.Height is 0 or > MostPixels)
        {
            return null;
        }

        using SKBitmap? unpacked = SKBitmap.Decode(codec, new SKImageInfo(codec.Info.Width, codec.Info.Height, SKColorType.Rgba8888, SKAlphaType.Premul));
        if (unpacked is null)
        {
            return null;
        }

        SKEncodedOrigin turned = codec.EncodedOrigin;
        bool isOnSide = turned is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom or SKEncodedOrigin.LeftBottom;
        (int width, int height) = isOnSide ? (unpacked.Height, unpacked.Width) : (unpacked.Width, unpacked.Height);
        float scale = Math.Min(1f, LongestSide / (float)Math.Max(width, height));
        SKImageInfo size = new(Math.Max(1, (int)MathF.Round(width * scale)), Math.Max(1, (int)MathF.Round(height * scale)));
        using SKSurface surface = SKSurface.Create(size);
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale(size.Width / (float)width, size.Height / (float)height);
        surface.Canvas.Concat(Upright(turned, width, height));
        using SKImage image = SKImage.FromBitmap(unpacked);
        surface.Canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        using SKImage drawn = surface.Snapshot();
        using SKData jpeg = drawn.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return new Picture(jpeg.ToArray(), size.Width, size.Height);
    }

    /// <summary>From the sensor's way up to the viewer's; width and height are the viewer's.</summary>
    /// <remarks>The eight orientations of Exif 2.32, tag 274.</remarks>
    private static SKMatrix Upright(SKEncodedOrigin turned, float width, float height) => turned switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, width, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, width, -1, 0, height, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, height, 0, 0, 1),
        _ => SKMatrix.Identity,
    };
}
