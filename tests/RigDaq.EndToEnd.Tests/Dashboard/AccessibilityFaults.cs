using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What the axe-core library (WCAG rules) finds wrong with a page: serious and critical, each with its places.</summary>
internal static class AccessibilityFaults
{
    public static async Task<IEnumerable<string>> FaultsAsync(this IPage page)
    {
        AxeResult result = await page.RunAxe();
        return result.Violations.Where(v => v.Impact is "serious" or "critical")
            .Select(v => $"{v.Id}: {string.Join("; ", v.Nodes.Select(n => n.Html))}");
    }
}
