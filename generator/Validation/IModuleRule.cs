using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Validation;

/// <summary>Checks one thing about the meaning of a module.</summary>
internal interface IModuleRule
{
    void Check(Module module, DiagnosticBag diagnostics);
}
