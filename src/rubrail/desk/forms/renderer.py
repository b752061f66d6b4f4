"""How forms and fields are drawn: by our own templates."""

from django.forms.renderers import TemplatesSetting


class DeskRenderer(TemplatesSetting):
    """Uses the desk's templates for forms and fields, Django's for the bare controls."""

    form_template_name = "desk/forms/form.html"
    field_template_name = "desk/forms/field.html"
