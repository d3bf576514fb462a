"""The project's own Python files, parsed."""

import ast
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent


@cache
def committed() -> tuple[Path, ...]:
    """Every file that git knows or would take in, so that a shop's own data beside it is not looked at."""
    listed = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, check=True, text=True,
    )  # fmt: skip
    paths = (ROOT / name for name in listed.stdout.split("\0") if name)
    return tuple(sorted(path for path in paths if path.is_file()))


def python_files(*folders: str) -> list[Path]:
    """The Python files below these folders of the project."""
    roots = [ROOT / folder for folder in folders]
    return [path for path in committed() if path.suffix == ".py" and any(root in path.parents for root in roots)]


@cache
def parsed(path: Path) -> ast.Module:
    """Its syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def module_name(path: Path) -> str:
    """As it is imported."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def imports(path: Path) -> set[str]:
    """Dotted names of everything the file imports, also inside functions; from-imports name each thing."""
    package = module_name(path).split(".")
    package = package if path.name == "__init__.py" else package[:-1]
    found: set[str] = set()
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            found.update(f"{start}.{alias.name}" for alias in node.names)
    return found
