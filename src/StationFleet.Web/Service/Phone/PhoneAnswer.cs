namespace StationFleet.Web.Service.Phone;

/// <summary>Tells the phone's queue that a form was stored, where the answer is a page and not a redirect.</summary>
internal static class PhoneAnswer
{
    private const string Header = "Phone-Answer";

    public static void Stored(HttpContext http) => http.Response.Headers[Header] = "stored";
}
