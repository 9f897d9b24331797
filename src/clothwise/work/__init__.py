"""Work: the order of work, its steps in words and pictures, and what to buy beside cloth.

precedences ──> plan ──> OrderOfWork ──> steps ──> sessions
                              └────────> scenes (a Picture for each step)
flats (front and back of the garment), thread_need, notions
"""

from clothwise.work.cautions import caution_footer, caution_text, cautions_of
from clothwise.work.errors import CircularOrder, UnknownPlaceholder, WorkError
from clothwise.work.flat import flat, flats
from clothwise.work.notions import (
    NotionLine,
    merged_notions,
    notion_line,
    notions,
    thread_line,
)
from clothwise.work.order import OrderMode, OrderOfWork, ordered, plan
from clothwise.work.picture import (
    Area,
    Arrow,
    Button,
    Caption,
    Face,
    LineRole,
    Picture,
    Trace,
)
from clothwise.work.precedence import Precedence, PrecedenceKind, carriers, precedences
from clothwise.work.pressing import Heat, gentler_words, heat_of, pressing_words
from clothwise.work.scene import scene, scenes
from clothwise.work.sessions import USUAL_SESSION_MIN, Session, sessions
from clothwise.work.steps import Step, pieces_worked_on, spoken_minutes, steps, total_minutes
from clothwise.work.thread import (
    Stitching,
    StitchType,
    ThreadNeed,
    repeats,
    thread_for,
    thread_need,
    thread_ratios,
    with_waste,
)
from clothwise.work.verify import OrderFault, OrderFaultCode, verify
from clothwise.work.viewing import View
from clothwise.work.wearing import Part, parts
from clothwise.work.wording import placeholders, spoken_length, worded

__all__ = [
    "USUAL_SESSION_MIN",
    "Area",
    "Arrow",
    "Button",
    "Caption",
    "CircularOrder",
    "Face",
    "Heat",
    "LineRole",
    "NotionLine",
    "OrderFault",
    "OrderFaultCode",
    "OrderMode",
    "OrderOfWork",
    "Part",
    "Picture",
    "Precedence",
    "PrecedenceKind",
    "Session",
    "Step",
    "StitchType",
    "Stitching",
    "ThreadNeed",
    "Trace",
    "UnknownPlaceholder",
    "View",
    "WorkError",
    "carriers",
    "caution_footer",
    "caution_text",
    "cautions_of",
    "flat",
    "flats",
    "gentler_words",
    "heat_of",
    "merged_notions",
    "notion_line",
    "notions",
    "ordered",
    "parts",
    "pieces_worked_on",
    "placeholders",
    "plan",
    "precedences",
    "pressing_words",
    "repeats",
    "scene",
    "scenes",
    "sessions",
    "spoken_length",
    "spoken_minutes",
    "steps",
    "thread_for",
    "thread_line",
    "thread_need",
    "thread_ratios",
    "total_minutes",
    "verify",
    "with_waste",
    "worded",
]
