using System.ComponentModel.DataAnnotations;
using Microsoft.Extensions.Configuration;
using StationFleet.Web.Mail;

namespace StationFleet.Web.Tests.Mail;

public sealed class MailOptionsTests
{
    [Theory]
    [InlineData("Host=mail.example.org", "Mail:From must be set when Mail:Host is.")]
    [InlineData("From=not an address", "Mail:From must be one address like fleet@example.org.")]
    [InlineData("EnvelopeFrom=a@example.org, b@example.org", "Mail:EnvelopeFrom must be one address like fleet@example.org.")]
    [InlineData("Domain=no domain", "Mail:Domain must be a domain name like example.org.")]
    [InlineData("Host=mail.example.org;From=a@example.org;User=a;Security=None", "Mail:User needs Mail:Security StartTls or Tls: a password does not travel in the open.")]
    [InlineData("RetryMinutes:0=0", "Mail:RetryMinutes must each be more than 0 and at most 1440.")]
    public void A_wrong_setting_stops_the_start_with_a_sentence(string settings, string sentence) =>
        Problems(Bind(settings)).Should().Equal(sentence);

    [Fact]
    public void Without_settings_mails_go_to_the_folder_and_nothing_is_wrong()
    {
        MailOptions options = Bind("");

        options.UsesServer.Should().BeFalse();
        Problems(options).Should().BeEmpty();
    }

    [Fact]
    public void Delays_from_the_settings_replace_the_usual_ones()
    {
        MailOptions options = Bind("RetryMinutes:0=3;RetryMinutes:1=4");

        options.DelayAfter(1).Should().Be(TimeSpan.FromMinutes(3));
        options.DelayAfter(2).Should().Be(TimeSpan.FromMinutes(4));
        options.DelayAfter(9).Should().Be(TimeSpan.FromMinutes(4));
    }

    private static MailOptions Bind(string settings) =>
        new ConfigurationBuilder()
            .AddInMemoryCollection(settings.Split(';', StringSplitOptions.RemoveEmptyEntries)
                .Select(setting => setting.Split('=', 2)).Select(parts => KeyValuePair.Create(parts[0], (string?)parts[1])))
            .Build().Get<MailOptions>() ?? new MailOptions();

    private static IEnumerable<string?> Problems(MailOptions options)
    {
        List<ValidationResult> results = [];
        Validator.TryValidateObject(options, new ValidationContext(options), results, validateAllProperties: true);
        return results.Select(result => result.ErrorMessage);
    }
}
