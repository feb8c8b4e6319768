"""Which files may a kit name? Only those in its own folder, for it may come from a stranger."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath

from axletree.kit.errors import AxletreeError


def beside(name: str, folder: Path | None, what: str, example: str = "skyline.csv") -> Path:
    """The path of a file named by a kit, if it lies within the kit's folder; refused otherwise.

    `folder` is where the kit file stands, None where there is none. Refusals begin with `what`.
    """
    wrong = f"{what} '{name}': "
    if folder is None:
        raise AxletreeError(wrong + "this kit stands in no folder, so it can name no file")
    posix, windows = PurePosixPath(name), PureWindowsPath(name)
    if posix.is_absolute() or windows.drive or windows.root or ".." in windows.parts:
        raise AxletreeError(wrong + f"give a file beside the kit, such as '{example}'")
    if not name.strip() or "\0" in name:
        raise AxletreeError(wrong + "give the name of a CSV file beside the kit")
    try:
        home = folder.resolve()
        path = (home / name).resolve()
        if not path.is_relative_to(home):  # a link that leads elsewhere
            raise AxletreeError(wrong + "it leads out of the kit's folder")
        if not path.exists():
            raise AxletreeError(wrong + "no such file beside the kit")
        if not path.is_file():
            raise AxletreeError(wrong + "that is not a file")
    except (OSError, RuntimeError) as error:  # a name too long, links in a circle
        raise AxletreeError(wrong + f"cannot be read ({error})") from None
    return path
