using System.Globalization;
using StationFleet.Domain.Service.Routes;

namespace StationFleet.Domain.Tests.Service.Routes;

/// <summary>
/// Instances of TSPLIB (G. Reinelt, ORSA J. Computing 3(4), 376–384, 1991), with the lengths of their shortest round trips as its
/// list of solutions gives them.
/// </summary>
internal static class PublishedTours
{
    public const int Burma14Shortest = 3323;
    public const int Ulysses16Shortest = 6859;
    public const int Gr17Shortest = 2085;
    public const int Br17Shortest = 39;
    public const int Berlin52Shortest = 7542;

    public static RouteProblem Burma14 => RoundTrip(Geographic(
        "16.47 96.10 16.47 94.44 20.09 92.54 22.39 93.37 25.23 97.24 22.00 96.05 20.47 97.02 17.20 96.29 16.30 97.38 14.05 98.12 16.53 97.38 21.52 95.59 19.41 97.13 20.09 94.55"));

    public static RouteProblem Ulysses16 => RoundTrip(Geographic(
        "38.24 20.42 39.57 26.15 40.56 25.32 36.26 23.12 33.48 10.54 37.56 12.19 38.42 13.11 37.52 20.44 41.23 9.10 41.17 13.05 36.08 -5.21 38.47 15.13 38.15 15.35 37.51 15.17 35.49 14.32 39.36 19.56"));

    public static RouteProblem Gr17 => RoundTrip(LowerTriangle(17,
        """
        0 633 0 257 390 0 91 661 228 0 412 227 169 383 0 150 488 112 120 267 0 80 572 196 77 351 63 0 134 530 154 105 309 34 29 0
        259 555 372 175 338 264 232 249 0 505 289 262 476 196 360 444 402 495 0 353 282 110 324 61 208 292 250 352 154 0
        324 638 437 240 421 329 297 314 95 578 435 0 70 567 191 27 346 83 47 68 189 439 287 254 0 211 466 74 182 243 105 150 108 326 336 184 391 145 0
        268 420 53 239 199 123 207 165 383 240 140 448 202 57 0 246 745 472 237 528 364 332 349 202 685 542 157 289 426 483 0
        121 518 142 84 297 35 29 36 236 390 238 301 55 96 153 336 0
        """));

    /// <summary>The way there is not as long as the way back.</summary>
    public static RouteProblem Br17 => RoundTrip(Square(17,
        """
        9999 3 5 48 48 8 8 5 5 3 3 0 3 5 8 8 5
        3 9999 3 48 48 8 8 5 5 0 0 3 0 3 8 8 5
        5 3 9999 72 72 48 48 24 24 3 3 5 3 0 48 48 24
        48 48 74 9999 0 6 6 12 12 48 48 48 48 74 6 6 12
        48 48 74 0 9999 6 6 12 12 48 48 48 48 74 6 6 12
        8 8 50 6 6 9999 0 8 8 8 8 8 8 50 0 0 8
        8 8 50 6 6 0 9999 8 8 8 8 8 8 50 0 0 8
        5 5 26 12 12 8 8 9999 0 5 5 5 5 26 8 8 0
        5 5 26 12 12 8 8 0 9999 5 5 5 5 26 8 8 0
        3 0 3 48 48 8 8 5 5 9999 0 3 0 3 8 8 5
        3 0 3 48 48 8 8 5 5 0 9999 3 0 3 8 8 5
        0 3 5 48 48 8 8 5 5 3 3 9999 3 5 8 8 5
        3 0 3 48 48 8 8 5 5 0 0 3 9999 3 8 8 5
        5 3 0 72 72 48 48 24 24 3 3 5 3 9999 48 48 24
        8 8 50 6 6 0 0 8 8 8 8 8 8 50 9999 0 8
        8 8 50 6 6 0 0 8 8 8 8 8 8 50 0 9999 8
        5 5 26 12 12 8 8 0 0 5 5 5 5 26 8 8 9999
        """));

    public static RouteProblem Berlin52 => RoundTrip(Flat(
        """
        565 575 25 185 345 750 945 685 845 655 880 660 25 230 525 1000 580 1175 650 1130 1605 620 1220 580 1465 200 1530 5 845 680 725 370
        145 665 415 635 510 875 560 365 300 465 520 585 480 415 835 625 975 580 1215 245 1320 315 1250 400 660 180 410 250 420 555 575 665
        1150 1160 700 580 685 595 685 610 770 610 795 645 720 635 760 650 475 960 95 260 875 920 700 500 555 815 830 485 1170 65 830 610
        605 625 595 360 1340 725 1740 245
        """));

    // The first city is where the day starts and ends.
    private static RouteProblem RoundTrip(int[,] distances)
    {
        int n = distances.GetLength(0);
        int[,] driving = new int[n + 1, n + 1];
        for (int from = 0; from <= n; from++)
        {
            for (int to = 0; to <= n; to++)
            {
                driving[from, to] = distances[from % n, to % n];
            }
        }

        return new RouteProblem(driving, [.. Enumerable.Repeat(new RouteProblemStop(Service: 0), n - 1)]);
    }

    // TSPLIB's distance GEO: degrees and minutes, a sphere of 6378.388 km, cut to whole kilometres after one is added.
    private static int[,] Geographic(string text)
    {
        double[] radians = [.. Numbers(text).Select(value => 3.141592 * (Math.Truncate(value) + (5.0 * (value - Math.Truncate(value)) / 3.0)) / 180.0)];
        return Table(radians.Length / 2, (i, j) =>
        {
            double q1 = Math.Cos(radians[(2 * i) + 1] - radians[(2 * j) + 1]);
            double q2 = Math.Cos(radians[2 * i] - radians[2 * j]);
            double q3 = Math.Cos(radians[2 * i] + radians[2 * j]);
            return i == j ? 0 : (int)((6378.388 * Math.Acos(0.5 * (((1.0 + q1) * q2) - ((1.0 - q1) * q3)))) + 1.0);
        });
    }

    // TSPLIB's distance EUC_2D: rounded to the nearest whole number.
    private static int[,] Flat(string text)
    {
        double[] at = Numbers(text);
        return Table(at.Length / 2, (i, j) => (int)(Math.Sqrt(Math.Pow(at[2 * i] - at[2 * j], 2) + Math.Pow(at[(2 * i) + 1] - at[(2 * j) + 1], 2)) + 0.5));
    }

    private static int[,] Square(int n, string text)
    {
        double[] values = Numbers(text);
        return Table(n, (i, j) => i == j ? 0 : (int)values[(i * n) + j]);
    }

    private static int[,] LowerTriangle(int n, string text)
    {
        double[] values = Numbers(text);
        return Table(n, (i, j) => (int)values[(Math.Max(i, j) * (Math.Max(i, j) + 1) / 2) + Math.Min(i, j)]);
    }

    private static int[,] Table(int n, Func<int, int, int> distance)
    {
        int[,] table = new int[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                table[i, j] = distance(i, j);
            }
        }

        return table;
    }

    private static double[] Numbers(string text) =>
        [.. text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(word => double.Parse(word, CultureInfo.InvariantCulture))];
}
