using StagedMargins.Core;

namespace StagedMargins.Web.Problems;

/// <summary>Collects what is wrong with a request, field by field, so that all of it is said at once.</summary>
public sealed class FieldErrors
{
    private readonly Dictionary<string, List<string>> errors = [];

    /// <summary>Takes a value, or notes why it can't be had and goes on.</summary>
    /// <param name="within">The field that holds the value, or null where refusals name it themselves.</param>
    /// <param name="make">Makes the value.</param>
    public T? Collect<T>(string? within, Func<T> make)
    {
        try
        {
            return make();
        }
        catch (InvalidEntryException e)
        {
            Add(within is null ? e.Field : e.Within(within).Field, e.Message);
            return default;
        }
    }

    /// <summary>Notes what is wrong with a field.</summary>
    public void Add(string field, string message)
    {
        if (!errors.TryGetValue(field, out var list))
        {
            errors[field] = list = [];
        }

        list.Add(message);
    }

    /// <summary>Refuses the request where anything is wrong with it.</summary>
    /// <exception cref="InvalidRequestException">Something is.</exception>
    public void ThrowIfAny()
    {
        if (errors.Count > 0)
        {
            throw new InvalidRequestException(errors.ToDictionary(pair => pair.Key, pair => pair.Value.ToArray()));
        }
    }
}

/// <summary>A request with one or more fields at fault.</summary>
/// <param name="errors">Messages by field.</param>
public sealed class InvalidRequestException(IReadOnlyDictionary<string, string[]> errors) : Exception("A field is invalid.")
{
    /// <summary>Messages by field.</summary>
    public IReadOnlyDictionary<string, string[]> Errors { get; } = errors;
}

/// <summary>A step that another role may take.</summary>
/// <param name="message">Who may.</param>
public sealed class NotYourRoleException(string message) : Exception(message);

/// <summary>The case has changed since the caller saw it.</summary>
/// <param name="message">What to do.</param>
public sealed class StaleVersionException(string message) : Exception(message);
