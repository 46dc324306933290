using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace StationFleet.Storage.Platform;

/// <summary>What holds for every table.</summary>
internal static class ModelConventions
{
    /// <summary>A number that the database gives is never given twice, also where the key is a type of its own.</summary>
    internal static void UseAutoincrementForOwnIds(this ModelBuilder builder)
    {
        IEnumerable<IMutableProperty> keys = builder.Model.GetEntityTypes()
            .Select(entity => entity.FindPrimaryKey())
            .Where(key => key?.Properties.Count == 1)
            .Select(key => key!.Properties[0]);
        foreach (IMutableProperty id in keys.Where(id => id.ValueGenerated == ValueGenerated.OnAdd && id.ClrType.IsValueType))
        {
            id.SetValueGenerationStrategy(SqliteValueGenerationStrategy.Autoincrement);
        }
    }

    /// <summary>Columns are named like <c>station_id</c>, so that the schema reads as one, whoever made the table.</summary>
    internal static void UseSnakeCaseColumns(this ModelBuilder builder)
    {
        foreach (IMutableProperty property in builder.Model.GetEntityTypes().SelectMany(entity => entity.GetDeclaredProperties()))
        {
            property.SetColumnName(Of(property.Name));
        }
    }

    private static string Of(string name)
    {
        StringBuilder snake = new();
        for (int i = 0; i < name.Length; i++)
        {
            if (i > 0 && char.IsUpper(name[i]) && !char.IsUpper(name[i - 1]))
            {
                snake.Append('_');
            }

            snake.Append(char.ToLowerInvariant(name[i]));
        }

        return snake.ToString();
    }
}
