"""A rule is looked up on the page by a word, a section or a link, and says the same as on the command line."""

from tests.web.browser.helpers import wait_until


def test_a_rule_is_looked_up_by_a_trade_word_and_a_disputed_point_by_its_link(phone):
    phone.open()
    phone.page.locator("#rule").fill("grounds")
    phone.tap("Look up")
    phone.page.get_by_role("heading", name="Equipment grounds").wait_for()
    assert "2008-2017: One allowance covers all equipment grounds" in phone.dialog_text
    assert "(2017 from memory)" in phone.dialog_text
    phone.tap("Does a pigtail from the ground splice to the box or to a device count?")
    phone.page.get_by_role("heading", name="grounding-pigtail").wait_for()
    assert "not-counted (default): no, it does not come in from outside." in phone.dialog_text
    phone.close_dialog()


def test_a_word_of_several_pages_lists_them_and_each_opens(phone):
    phone.open()
    phone.page.locator("#rule").fill("314.16(B)(2)")
    phone.tap("Look up")
    phone.page.get_by_role("heading", name="Pages for '314.16(B)(2)'").wait_for()
    phone.tap("Clamp assemblies")
    phone.page.get_by_role("heading", name="Clamp assemblies").wait_for()
    assert "From 2014: A clamp assembly takes no allowance." in phone.dialog_text
    phone.close_dialog()


def test_what_standard_boxes_hold_is_a_table(phone):
    phone.open()
    phone.tap("What standard boxes hold")
    row = phone.page.locator("dialog tr", has_text="square").nth(1)
    row.wait_for()
    assert row.locator("td").all_inner_texts() == ["21.00", "14", "12", "10", "9", "8", "7", "4"]
    phone.close_dialog()
    phone.tap("Disputed points")
    phone.page.get_by_role("heading", name="plastic-tabs").wait_for()
    phone.close_dialog()


def test_a_word_that_means_nothing_is_told_so(phone):
    phone.open()
    phone.page.locator("#rule").fill("moonlight")
    phone.tap("Look up")
    wait_until(lambda: "try a word such as grounds" in phone.status)
