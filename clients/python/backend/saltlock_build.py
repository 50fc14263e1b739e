"""Builds the wheel and the source archive on the standard library alone (PEP 517).

A wheel is a zip with a list of its files, a source archive a tar with the same
metadata. Both get a fixed time for every file, so that building twice gives the
same bytes.
"""

import base64
import gzip
import hashlib
import io
import pathlib
import re
import tarfile
import tomllib
import zipfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
# The contract's version stands once, in the generated module.
VERSION = re.search(r'^VERSION = "(.*)"$', (ROOT / "saltlock" / "__init__.py").read_text("utf-8"), re.MULTILINE)[1]
NAME = f"{PROJECT['name']}-{VERSION}"
LICENCE = ROOT.parent.parent / "LICENSE"
EPOCH = (1980, 1, 1, 0, 0, 0)  # the first that a zip can hold


def _metadata() -> str:
    head = [
        "Metadata-Version: 2.1",
        f"Name: {PROJECT['name']}",
        f"Version: {VERSION}",
        f"Summary: {PROJECT['description']}",
        f"License: {PROJECT['license']['text']}",
        f"Requires-Python: {PROJECT['requires-python']}",
        "Classifier: Typing :: Typed",
        "Description-Content-Type: text/markdown",
    ]
    return "\n".join(head) + "\n\n" + (ROOT / PROJECT["readme"]).read_text("utf-8")


def _licence() -> bytes:
    """The licence of the repository, or the copy that a source archive carries."""
    return (LICENCE if LICENCE.exists() else ROOT / "LICENSE").read_bytes()


def _module() -> dict[str, bytes]:
    files = sorted((ROOT / "saltlock").glob("*"))
    return {f"saltlock/{f.name}": f.read_bytes() for f in files if f.is_file()}


def _about() -> dict[str, bytes]:
    scripts = "".join(f"{name} = {place}\n" for name, place in PROJECT["scripts"].items())
    wheel = "Wheel-Version: 1.0\nGenerator: saltlock_build\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    return {
        f"{NAME}.dist-info/METADATA": _metadata().encode(),
        f"{NAME}.dist-info/WHEEL": wheel.encode(),
        f"{NAME}.dist-info/entry_points.txt": f"[console_scripts]\n{scripts}".encode(),
        f"{NAME}.dist-info/LICENSE": _licence(),
    }


def _record(files: dict[str, bytes], own: str) -> bytes:
    def line(name: str, content: bytes) -> str:
        digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
        return f"{name},sha256={digest},{len(content)}\n"
    return ("".join(line(*entry) for entry in files.items()) + f"{own},,\n").encode()


def build_wheel(wheel_directory, config_settings=None, metadata_directory=None):
    files = {**_module(), **_about()}
    own = f"{NAME}.dist-info/RECORD"
    files[own] = _record(files, own)
    name = f"{NAME}-py3-none-any.whl"
    with zipfile.ZipFile(pathlib.Path(wheel_directory) / name, "w", zipfile.ZIP_DEFLATED) as wheel:
        for path, content in files.items():
            entry = zipfile.ZipInfo(path, EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o100644 << 16
            wheel.writestr(entry, content)
    return name


def build_sdist(sdist_directory, config_settings=None):
    own = {name: (ROOT / name).read_bytes() for name in ("pyproject.toml", "README.md", "backend/saltlock_build.py")}
    files = {**own, **_module(), "LICENSE": _licence(), "PKG-INFO": _metadata().encode()}
    packed = io.BytesIO()
    with tarfile.open(fileobj=packed, mode="w", format=tarfile.PAX_FORMAT) as archive:
        for path, content in files.items():
            entry = tarfile.TarInfo(f"{NAME}/{path}")
            entry.size, entry.mode = len(content), 0o644
            archive.addfile(entry, io.BytesIO(content))
    name = f"{NAME}.tar.gz"
    with open(pathlib.Path(sdist_directory) / name, "wb") as out, gzip.GzipFile(fileobj=out, mode="wb", filename="", mtime=0) as zipped:
        zipped.write(packed.getvalue())
    return name
