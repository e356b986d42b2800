"""Write the schemas anew, in place."""

from pathlib import Path

from finishsched.documents.schemas import write_all

write_all(Path(__file__).parent)
