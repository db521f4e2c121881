"""What ``pyproject.toml`` cannot say: ``scenarios`` is in the wheel, the archive is whole."""

from setuptools import find_namespace_packages, setup
from setuptools.command.sdist import sdist


class WholeProject(sdist):
    """A source archive with all that it takes to test the project and to carry it on."""

    def make_distribution(self) -> None:
        """Add what stands beside the package."""
        for folder in (".ci", "notebooks", "scenarios", "tests"):
            self.filelist.graft(folder)
        self.filelist.include("*.md")
        self.filelist.global_exclude("*.pyc")
        super().make_distribution()


setup(
    packages=[*find_namespace_packages(include=["mountcalc*"]), "mountcalc.scenarios"],
    package_dir={"mountcalc.scenarios": "scenarios"},
    cmdclass={"sdist": WholeProject},
)
