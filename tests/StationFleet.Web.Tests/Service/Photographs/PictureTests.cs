using System.Text;
using SkiaSharp;
using StationFleet.Web.Service.Photographs;

namespace StationFleet.Web.Tests.Service.Photographs;

public sealed class PictureTests
{
    [Theory]
    [Source("Exif 2.32, tag 274 (Orientation): which corner of the scene the first row and column show; from memory")]
    [InlineData(1, "red", "green", "blue", "white")]
    [InlineData(2, "green", "red", "white", "blue")]
    [InlineData(3, "white", "blue", "green", "red")]
    [InlineData(4, "blue", "white", "red", "green")]
    [InlineData(5, "red", "blue", "green", "white")]
    [InlineData(6, "blue", "red", "white", "green")]
    [InlineData(7, "white", "green", "blue", "red")]
    [InlineData(8, "green", "white", "red", "blue")]
    public void A_picture_is_turned_upright_and_its_metadata_is_gone(byte orientation, params string[] corners)
    {
        byte[] sent = WithExif(FourCorners(), orientation);

        Picture picture = Picture.From(sent)!;

        Encoding.Latin1.GetString(sent).Should().Contain("Exif").And.Contain("Juniper Basin 44.4N");
        Encoding.Latin1.GetString(picture.Jpeg).Should().NotContain("Exif").And.NotContain("Juniper Basin");
        using SKBitmap seen = SKBitmap.Decode(picture.Jpeg);
        (seen.Width, seen.Height).Should().Be(orientation < 5 ? (400, 200) : (200, 400));
        new[] { At(seen, 0.1, 0.1), At(seen, 0.9, 0.1), At(seen, 0.1, 0.9), At(seen, 0.9, 0.9) }.Should().Equal(corners);
    }

    [Fact]
    public void A_large_picture_is_made_smaller()
    {
        using SKBitmap large = new(4000, 3000);
        large.Erase(SKColors.Teal);
        using SKData jpeg = large.Encode(SKEncodedImageFormat.Png, 100);

        Picture picture = Picture.From(jpeg.ToArray())!;

        (picture.Width, picture.Height).Should().Be((1600, 1200));
    }

    [Theory]
    [InlineData("%PDF-1.7 not a picture")]
    [InlineData("")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>")]
    public void What_is_no_picture_is_refused(string text) => Picture.From(Encoding.Latin1.GetBytes(text)).Should().BeNull();

    [Fact]
    public void A_picture_of_too_many_pixels_is_refused_before_it_is_unpacked()
    {
        using SKBitmap huge = new(new SKImageInfo(9000, 6000, SKColorType.Gray8));
        using SKData png = huge.Encode(SKEncodedImageFormat.Png, 100);

        Picture.From(png.ToArray()).Should().BeNull();
    }

    // Red, green above; blue, white below; 400 by 200.
    private static byte[] FourCorners()
    {
        using SKBitmap bitmap = new(400, 200);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(SKColors.White);
        Fill(canvas, 0, 0, SKColors.Red);
        Fill(canvas, 200, 0, SKColors.Lime);
        Fill(canvas, 0, 100, SKColors.Blue);
        using SKData jpeg = bitmap.Encode(SKEncodedImageFormat.Jpeg, 100);
        return jpeg.ToArray();
    }

    private static void Fill(SKCanvas canvas, float x, float y, SKColor colour)
    {
        using SKPaint paint = new() { Color = colour };
        canvas.DrawRect(x, y, 200, 100, paint);
    }

    private static string At(SKBitmap bitmap, double x, double y)
    {
        SKColor colour = bitmap.GetPixel((int)(x * bitmap.Width), (int)(y * bitmap.Height));
        return (colour.Red > 128, colour.Green > 128, colour.Blue > 128) switch
        {
            (true, true, true) => "white",
            (true, false, false) => "red",
            (false, true, false) => "green",
            (false, false, true) => "blue",
            _ => colour.ToString(),
        };
    }

    // An APP1 segment right after the start: big-endian TIFF with two entries, the orientation and a description.
    private static byte[] WithExif(byte[] jpeg, byte orientation)
    {
        byte[] place = Encoding.ASCII.GetBytes("Juniper Basin 44.4N\0");
        byte[] tiff =
        [
            .. "MM"u8, 0, 42, 0, 0, 0, 8, 0, 2,
            0x01, 0x0E, 0, 2, 0, 0, 0, (byte)place.Length, 0, 0, 0, 38,
            0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0,
            0, 0, 0, 0, .. place,
        ];
        byte[] body = [.. "Exif\0\0"u8, .. tiff];
        return [.. jpeg[..2], 0xFF, 0xE1, (byte)((body.Length + 2) >> 8), (byte)(body.Length + 2), .. body, .. jpeg[2..]];
    }
}
