using System.Reflection;
using Microsoft.OpenApi;
using Scalar.AspNetCore;
using StagedMargins.Core;
using StagedMargins.Core.Wording;

namespace StagedMargins.Web.Features.ApiDocs;

/// <summary>The description of the API, and a page to try it.</summary>
public static class ApiDescription
{
    /// <summary>Adds the document.</summary>
    public static void AddApiDescription(this IServiceCollection services) => services.AddOpenApi("v1", options =>
    {
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "StagedMargins",
                Version = "v1",
                Description = "Margin-mapping log for staged, margin-controlled skin cancer surgery. Lengths in mm, areas in mm², clock arcs HH:MM clockwise with the end exclusive. " + Sentences.Disclaimer,
            };
            document.Servers = [];
            document.Components ??= new OpenApiComponents();
            document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
            {
                ["bearer"] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = "bearer", Description = "The accessToken of POST /api/auth/login." },
            };
            document.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference("bearer", document)] = [] }];
            return Task.CompletedTask;
        });
        options.AddSchemaTransformer((schema, context, _) =>
        {
            Describe(schema, context.JsonTypeInfo.Type);
            return Task.CompletedTask;
        });
    });

    /// <summary>Adds the routes.</summary>
    public static void MapApiDescription(this IEndpointRouteBuilder routes)
    {
        routes.MapOpenApi("/openapi/{documentName}.json").AllowAnonymous();
        routes.MapScalarApiReference("/api-docs", options => options
            .WithTitle("StagedMargins API")
            .WithOpenApiRoutePattern("/openapi/{documentName}.json")
            .WithNonce()
            .DisableDefaultFonts()).AllowAnonymous();
    }

    // Types with a converter of their own are not described by the framework.
    private static void Describe(OpenApiSchema schema, Type type)
    {
        var inner = Nullable.GetUnderlyingType(type);
        var nullable = inner is null ? default : JsonSchemaType.Null;
        if ((inner ?? type) == typeof(DateTimeOffset))
        {
            (schema.Type, schema.Format) = (JsonSchemaType.String | nullable, "date-time");
        }
        else if ((inner ?? type) is { IsEnum: true } words)
        {
            schema.Type = JsonSchemaType.String | nullable;
            var all = (IReadOnlyList<string>)typeof(EnumNames<>).MakeGenericType(words).GetProperty("All", BindingFlags.Public | BindingFlags.Static)!.GetValue(null)!;
            schema.Enum = [.. all.Select(word => (System.Text.Json.Nodes.JsonNode)word)];
        }
    }
}
