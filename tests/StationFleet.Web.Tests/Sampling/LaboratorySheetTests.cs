using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

public sealed class LaboratorySheetTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Header = "sample,aliquot,concentrate_ml,examined_ml,scientific_name,stage,count,identified_by,confidence";
    private static int _last = 10;
    private readonly string _station = $"LAB-{Interlocked.Increment(ref _last)}";

    private string Code => $"{_station}-260708-A";

    [Fact]
    public async Task What_goes_out_comes_back_filled_and_twice_is_once()
    {
        await StartAsync();
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"lab {_station}", FleetRoles.Biologist);
        string sheet = (await browser.GoAsync("/samples/laboratory.csv")).Html;
        string[] own = [.. sheet.Split("\r\n").Where(line => line.StartsWith(Code, StringComparison.Ordinal))];
        own.Should().HaveCount(2, "a row for each stage").And.Contain($"{Code},1,50,,Quagga mussel scientifica,veliger,,,");
        string filled = Header + "\r\n" + own[0].Replace(",1,50,,", ",1,50,5,", StringComparison.Ordinal).Replace("veliger,,,", "veliger,27,=lab@basin,probable", StringComparison.Ordinal);

        ReadLaboratorySheet.Preview preview = await ReadAsync(filled);
        BringLaboratorySheet.Result first = await BringAsync(filled);
        BringLaboratorySheet.Result second = await BringAsync(filled);

        preview.Rows.Should().ContainSingle().Which.Verdict.Should().Be(ReadLaboratorySheet.Verdict.New);
        (first.Stored, second.Stored).Should().Be((1, 0));
        (await ReadAsync(filled)).Rows.Single().Verdict.Should().Be(ReadLaboratorySheet.Verdict.Known);
        AliquotCount count = (await CountsAsync()).Should().ContainSingle().Subject;
        (count.Count, count.Confidence, count.IdentifiedBy).Should().Be((27, Confidence.Probable, "=lab@basin"));
        string again = (await browser.GoAsync("/samples/laboratory.csv?counted=1")).Html;
        again.Should().Contain($"{Code},1,50,5,Quagga mussel scientifica,veliger,27,'=lab@basin,probable", "no spreadsheet runs it as a formula");
        (await ReadAsync(Header + "\n" + again.Split("\r\n").Single(line => line.StartsWith($"{Code},1,50,5", StringComparison.Ordinal)))).Rows.Single().Verdict
            .Should().Be(ReadLaboratorySheet.Verdict.Known, "our guard is taken off again");
    }

    [Theory]
    [InlineData("NONE-1,1,50,1,Quagga mussel,veliger,3,lab,certain", "There is no such sample among yours that is counted in aliquots.")]
    [InlineData("@,first,50,1,Quagga mussel,veliger,3,lab,certain", "The aliquot is a whole number, 1 to 99.")]
    [InlineData("@,1,50,1,Zebra,veliger,3,lab,certain", "This kind is not on the list of what is looked for.")]
    [InlineData("@,1,50,1,Quagga mussel,egg,3,lab,certain", "Its stages are: veliger, settled juvenile.")]
    [InlineData("@,1,50,1,Quagga mussel,veliger,3.5,lab,certain", "The count is a whole number, 0 to 100000, or empty.")]
    [InlineData("@,1,50,,Quagga mussel,veliger,3,lab,certain", "Write the millilitres looked through, such as 1 or 2.5.")]
    [InlineData("@,1,60,1,Quagga mussel,veliger,3,lab,certain", "Its concentrate is 50 mL.")]
    [InlineData("@,1,50,1,Quagga mussel,veliger,3,,certain", "Write who identified it.")]
    [InlineData("@,1,50,1,Quagga mussel,veliger,3,lab,surely", "The confidence is certain, probable or tentative.")]
    [InlineData("@,2,50,1,Quagga mussel,veliger,3,lab,certain", "left out: the next aliquot of this sample is 1")]
    public async Task A_wrong_row_says_why_and_the_good_ones_are_taken(string row, string words)
    {
        await StartAsync();
        string other = $"{_station}-260708-B";
        await app.AddSampleAsync(await app.ReadAsync(db => db.Stations.SingleAsync(station => station.Code == _station)), other);
        string sheet = $"{Header}\n{row.Replace("@", Code, StringComparison.Ordinal)}\n{other};1".Replace(";", ",", StringComparison.Ordinal)
            + ",50,1,quagga mussel,Veliger,4,lab,";

        ReadLaboratorySheet.Preview preview = await ReadAsync(sheet);

        preview.Rows[0].Should().BeEquivalentTo(new { Line = 2, Verdict = ReadLaboratorySheet.Verdict.Wrong, Words = words });
        preview.Aliquots.Should().ContainSingle().Which.Sample.Should().Be(other);
        (await BringAsync(sheet)).Stored.Should().Be(1);
        (await CountsAsync()).Should().BeEmpty();
    }

    [Fact]
    public async Task An_aliquot_with_one_wrong_row_is_left_out_whole()
    {
        await StartAsync();

        ReadLaboratorySheet.Preview preview = await ReadAsync(
            $"{Header}\n{Code},1,50,1,Quagga mussel,veliger,4,lab,certain\n{Code},1,50,1,Quagga mussel,settled juvenile,many,lab,certain");

        preview.Aliquots.Should().BeEmpty();
        preview.Rows.Select(row => row.Words).Should().Equal("left out: another row of this aliquot is wrong", "The count is a whole number, 0 to 100000, or empty.");
    }

    [Fact]
    public async Task Another_number_for_a_stored_count_is_not_taken()
    {
        await StartAsync();
        await BringAsync($"{Header}\n{Code},1,50,1,Quagga mussel,veliger,4,lab,certain");

        (await ReadAsync($"{Header}\n{Code},1,50,1,Quagga mussel,veliger,5,lab,certain")).Rows.Single().Words
            .Should().Be("4 is stored: correct it on the sample’s page, with the reason.");
    }

    [Theory]
    [InlineData("what is this", "These columns are missing: sample, aliquot, examined_ml, scientific_name, stage, count, identified_by.")]
    [InlineData(Header + "\na,\"b", "Line 2 cannot be cut into cells: is a quote open, or a separator within a cell?")]
    public async Task A_file_that_is_no_such_sheet_says_so(string text, string fault) => (await ReadAsync(text)).Fault.Should().Be(fault);

    private Task<ReadLaboratorySheet.Preview> ReadAsync(string text) => app.Get<ReadLaboratorySheet>().HandleAsync(Viewers.Biologist, text, CancellationToken.None);

    private Task<BringLaboratorySheet.Result> BringAsync(string text) => app.Get<BringLaboratorySheet>().HandleAsync(Viewers.Biologist, text, CancellationToken.None);

    private Task<AliquotCount[]> CountsAsync() => app.ReadAsync(db => db.AliquotCounts.AsNoTracking()
        .Where(count => db.SampleAliquots.Any(aliquot => aliquot.Id == count.AliquotId && db.Samples.Any(sample => sample.Id == aliquot.SampleId && sample.Code == Code))).ToArrayAsync());

    private async Task StartAsync()
    {
        Station station = await app.AddSampledStationAsync(_station);
        await app.TaxonAsync("Quagga mussel", knownFrom: "Copperline Reservoir");
        await app.AddSampleAsync(station, Code);
    }
}
